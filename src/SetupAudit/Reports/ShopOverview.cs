namespace SetupAudit.Reports;

/// <summary>What the first page shows: each machine with its last setups and what was found in them.</summary>
public sealed record ShopOverview
{
    public required string Shop { get; init; }

    /// <summary>The zone of the shop's wall clocks.</summary>
    public required TimeZoneInfo Zone { get; init; }

    public IReadOnlyList<MachineOverview> Machines { get; init; } = [];

    /// <summary>Why nothing is taken in now; null where it is.</summary>
    public string? Fault { get; init; }

    public required DateTimeOffset MadeUtc { get; init; }

    /// <summary>Version of the program.</summary>
    public required string Version { get; init; }
}
