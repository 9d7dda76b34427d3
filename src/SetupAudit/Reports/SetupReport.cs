using SetupAudit.Evidence;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>All that a report of one setup says; it is given its data and looks nothing up but quoted lines.</summary>
public sealed record SetupReport
{
    public required string Shop { get; init; }

    /// <summary>The zone of the shop's wall clocks.</summary>
    public required TimeZoneInfo Zone { get; init; }

    public required MachineConfig Machine { get; init; }

    public required SetupDocument Setup { get; init; }

    /// <summary>What each source of the machine can and cannot prove.</summary>
    public IReadOnlyList<CoverageView> Coverage { get; init; } = [];

    /// <summary>The text of a line of evidence; null where its bytes are not at hand.</summary>
    public Func<SourceLine, string?> Quote { get; init; } = _ => null;

    /// <summary>When, by whom and why bytes were dropped that the setup rests on, by their SHA-256.</summary>
    public IReadOnlyDictionary<string, string> Dropped { get; init; } = new Dictionary<string, string>();

    public required DateTimeOffset MadeUtc { get; init; }

    /// <summary>The latest moment that the machine's evidence speaks of; null where there is none.</summary>
    public DateTimeOffset? AsOfUtc { get; init; }

    /// <summary>Version of the program that made the report.</summary>
    public required string Version { get; init; }
}
