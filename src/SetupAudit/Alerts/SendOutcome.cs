namespace SetupAudit.Alerts;

/// <summary>What came of one try.</summary>
public enum SendOutcome
{
    /// <summary>The receiver said that it has it.</summary>
    Sent,

    /// <summary>It went out on a way on which no receiver answers.</summary>
    SentUnconfirmed,

    /// <summary>Not now; the same message may go later.</summary>
    Temporary,

    /// <summary>This message will never go this way.</summary>
    Permanent,

    /// <summary>No message will go this way until a person changes something.</summary>
    Final,
}
