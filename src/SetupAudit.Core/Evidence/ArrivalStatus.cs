namespace SetupAudit.Evidence;

/// <summary>How far an arrival could be read. What was read before a fault counts.</summary>
public enum ArrivalStatus
{
    Read,
    Partial,
    Unreadable,
}
