namespace SetupAudit.People;

/// <summary>What became of an act.</summary>
public enum ActOutcome
{
    /// <summary>It is kept.</summary>
    Done,

    /// <summary>It is not kept, and the same again would not be.</summary>
    Refused,

    /// <summary>The setup is not as it was when it was signed: look again, and sign again.</summary>
    Changed,
}
