namespace SetupAudit.Shares;

/// <summary>What was found could not be kept: what is behind the intake failed, and is mended there.</summary>
public sealed class NotTakenInException : Exception
{
    public NotTakenInException()
        : this("What was found could not be taken in.")
    {
    }

    public NotTakenInException(string message)
        : base(message)
    {
    }

    public NotTakenInException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
