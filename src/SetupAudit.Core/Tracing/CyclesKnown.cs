namespace SetupAudit.Tracing;

/// <summary>Whether the list of cycles in a window can be complete. None is never an all-clear.</summary>
public enum CyclesKnown
{
    None,
    Some,
    All,
}
