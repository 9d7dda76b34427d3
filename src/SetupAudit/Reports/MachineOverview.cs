using SetupAudit.Shapes;

namespace SetupAudit.Reports;

/// <summary>A machine on the first page.</summary>
/// <param name="HorizonUtc">Up to here its sources are known to have been read; null before the first time.</param>
/// <param name="Setups">The last ones, the newest first.</param>
/// <param name="Findings">What stands against these.</param>
public sealed record MachineOverview(
    string Machine, DateTimeOffset? HorizonUtc, IReadOnlyList<SetupView> Setups, IReadOnlyList<FindingView> Findings)
{
    /// <summary>Sources that cannot be read now, each with why, in a sentence.</summary>
    public IReadOnlyList<string> Unread { get; init; } = [];
}
