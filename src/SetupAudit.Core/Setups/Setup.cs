using SetupAudit.Changes;

namespace SetupAudit.Setups;

/// <summary>
/// Changes, touches, measurements and cycles that belong together (contract 4a; docs/setups.md draws the time lines).
/// </summary>
public sealed record Setup
{
    /// <summary>machine@opening moment, for example mill-3@20260302-071000.</summary>
    public required string Id { get; init; }

    public required string Machine { get; init; }

    /// <summary>Where print-outs tell pallets: whose setup it is.</summary>
    public string? Pallet { get; init; }

    public required DateTimeOffset OpenedUtc { get; init; }

    /// <summary>Last change, measurement or touch before production.</summary>
    public required DateTimeOffset LastEventUtc { get; init; }

    /// <summary>First cycle-start; null while none.</summary>
    public DateTimeOffset? CuttingUtc { get; init; }

    /// <summary>The moment production started, or the setup ended without; null while it is open.</summary>
    public DateTimeOffset? ClosedUtc { get; init; }

    public Judgement Judged { get; init; }

    /// <summary>The moment its rules are judged at: cutting started, or it went quiet. Null while neither.</summary>
    public DateTimeOffset? JudgedUtc { get; init; }

    /// <summary>Every offset as it stood when the setup opened.</summary>
    public required OffsetTable Before { get; init; }

    /// <summary>Every offset as it stood when the setup was judged; as it stands now where it was not.</summary>
    public required OffsetTable After { get; init; }

    /// <summary>Changes before production, in order; first sights among them set nothing.</summary>
    public IReadOnlyList<Change> Changes { get; init; } = [];

    /// <summary>
    /// Changes in production that open no setup: small ones, wear, and what a program in hand makes itself.
    /// </summary>
    public IReadOnlyList<Change> Adjustments { get; init; } = [];

    public IReadOnlyList<Touch> Touches { get; init; } = [];

    public IReadOnlyList<Measurement> Measurements { get; init; } = [];

    public IReadOnlyList<Alarm> Alarms { get; init; } = [];

    /// <summary>All cycles from its opening to the next setup's, in order.</summary>
    public IReadOnlyList<Cycle> Cycles { get; init; } = [];

    public IReadOnlyList<Lift> Lifts { get; init; } = [];

    /// <summary>Most registers or tools lost, or brought back, together.</summary>
    public IReadOnlyList<MassLoss> MassLosses { get; init; } = [];

    /// <summary>The programs it was made for, in the order they came to hand.</summary>
    public IReadOnlyList<string> Programs { get; init; } = [];

    public string? Setter { get; init; }

    /// <summary>Two sources' clocks disagreed in it by more than a few minutes; null where not.</summary>
    public string? ClocksDisagree { get; init; }

    /// <summary>What people said of it, the newest last.</summary>
    public IReadOnlyList<Review> Reviews { get; init; } = [];
}
