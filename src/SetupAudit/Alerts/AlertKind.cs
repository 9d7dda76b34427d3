namespace SetupAudit.Alerts;

/// <summary>Why a message is sent.</summary>
public enum AlertKind
{
    /// <summary>Findings that were raised.</summary>
    Raised,

    /// <summary>Findings that were sent before and no longer hold.</summary>
    Cleared,

    /// <summary>Findings that were sent before and still hold.</summary>
    Reminder,

    /// <summary>Findings of several setups or of a long time, in one message.</summary>
    Digest,

    /// <summary>No finding at all: a person tries whether messages arrive.</summary>
    Test,
}
