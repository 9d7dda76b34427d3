namespace SetupAudit.Setups;

/// <summary>
/// How a cycle ended; unknown where the next began, or the sources fell silent, without a word of its end.
/// </summary>
public enum CycleEnding
{
    Unknown,
    Finished,
    Aborted,
}
