namespace SetupAudit.Store.Outbox;

/// <summary>What is said of a message on its way to one receiver. The newest word holds.</summary>
public enum SendingOutcome
{
    /// <summary>It is put up to be sent.</summary>
    Queued,

    Sent,

    /// <summary>It went out on a way on which nobody answers.</summary>
    Unconfirmed,

    /// <summary>Not now; it is tried again.</summary>
    Temporary,

    /// <summary>A try had begun when the program ended: it may have arrived, and is tried again.</summary>
    Interrupted,

    /// <summary>This message never goes this way.</summary>
    Permanent,

    /// <summary>No message goes this way until a person changes something.</summary>
    Final,

    /// <summary>It was tried for as long as it is tried.</summary>
    GivenUp,

    /// <summary>A person, or another configuration, had it put up again.</summary>
    Resent,
}
