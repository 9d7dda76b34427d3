namespace SetupAudit.Shop;

/// <summary>How much a finding matters, in rising order.</summary>
public enum Severity
{
    Note,
    Low,
    High,
    Stop,
}
