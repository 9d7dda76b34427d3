namespace SetupAudit.Web;

/// <summary>How a machine's sources do.</summary>
/// <param name="HorizonUtc">Up to here all of its sources were read; null before the first clean scan.</param>
public sealed record MachineHealth(string Machine, DateTimeOffset? HorizonUtc, IReadOnlyList<SourceHealth> Sources)
{
    /// <summary>Arrivals that were taken in and are not read yet.</summary>
    public long Backlog { get; init; }
}
