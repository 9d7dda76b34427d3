using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>One run of a program on one part.</summary>
public sealed record Cycle
{
    public required string Machine { get; init; }

    /// <summary>The setup whose registers it ran under.</summary>
    public string? Setup { get; init; }

    public string? Program { get; init; }

    public required DateTimeOffset StartUtc { get; init; }

    /// <summary>Null where no source told its end.</summary>
    public DateTimeOffset? EndUtc { get; init; }

    public CycleEnding Ended { get; init; }

    public string? Part { get; init; }

    public string? Serial { get; init; }

    public string? Pallet { get; init; }

    public string? Order { get; init; }

    public int? Count { get; init; }

    public required SourceLine Source { get; init; }

    /// <summary>
    /// Its program is known, with all it calls, and cuts nowhere: it probes, warms up or moves, and starts neither
    /// cutting
    /// nor production.
    /// </summary>
    public bool CutsNothing { get; init; }

    /// <summary>Ran while a lift stood: a dry run, which starts no production.</summary>
    public bool UnderLift { get; init; }
}
