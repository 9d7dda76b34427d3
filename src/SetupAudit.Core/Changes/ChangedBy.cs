namespace SetupAudit.Changes;

/// <summary>By what an offset changed, as far as the evidence says.</summary>
public enum ChangedBy
{
    Unknown,
    Measured,
    Entered,
    Program,
    Restored,
}
