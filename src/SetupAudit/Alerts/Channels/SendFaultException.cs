namespace SetupAudit.Alerts.Channels;

/// <summary>Why a message cannot go, known before the receiver had a say. Its sentence holds no secret.</summary>
internal sealed class SendFaultException : Exception
{
    public SendFaultException(SendOutcome outcome, string message, Exception? inner = null)
        : base(message, inner) => Outcome = outcome;

    public SendOutcome Outcome { get; }
}
