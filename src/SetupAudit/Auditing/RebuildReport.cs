namespace SetupAudit.Auditing;

/// <summary>What deriving everything again from the evidence came to.</summary>
/// <param name="Waiting">How many arrivals were taken in and not read yet: nothing rests on them in the record, and
/// they are left out here too.</param>
/// <param name="Compared">How many rows were compared.</param>
/// <param name="DifferenceCount">How many differ.</param>
/// <param name="Differences">The first of those that differ.</param>
public sealed record RebuildReport(
    long Waiting, long Compared, long DifferenceCount, IReadOnlyList<RebuildDifference> Differences)
{
    /// <summary>How many rows rest on evidence that was dropped, and cannot be derived again.</summary>
    public long Standing { get; init; }
}
