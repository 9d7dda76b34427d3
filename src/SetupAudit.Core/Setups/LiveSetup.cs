using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Datums;

namespace SetupAudit.Setups;

/// <summary>A setup while the fold still adds to it: until the next one of its pallet opens.</summary>
public sealed record LiveSetup
{
    public required string Id { get; init; }

    public string? Pallet { get; init; }

    public required DateTimeOffset OpenedUtc { get; init; }

    public required DateTimeOffset LastEventUtc { get; init; }

    public DateTimeOffset? CuttingUtc { get; init; }

    /// <summary>Production started, or the setup ended without: what comes now adjusts it or opens the next.</summary>
    public DateTimeOffset? ClosedUtc { get; init; }

    public Judgement Judged { get; init; }

    public DateTimeOffset? JudgedUtc { get; init; }

    /// <summary>Judged while a lift stood, so the next cycle without one judges it anew.</summary>
    public bool JudgedUnderLift { get; init; }

    public required OffsetTable Before { get; init; }

    /// <summary>As it stood when judged; null while it was not.</summary>
    public OffsetTable? AtJudgement { get; init; }

    public ImmutableList<Change> Changes { get; init; } = [];

    public ImmutableList<Change> Adjustments { get; init; } = [];

    public ImmutableList<Touch> Touches { get; init; } = [];

    public ImmutableList<Measurement> Measurements { get; init; } = [];

    public ImmutableList<Alarm> Alarms { get; init; } = [];

    public ImmutableList<Cycle> Cycles { get; init; } = [];

    public ImmutableList<Lift> Lifts { get; init; } = [];

    public ImmutableList<MassLoss> MassLosses { get; init; } = [];

    /// <summary>Programs in the order they came to hand, with the moment.</summary>
    public ImmutableList<ProgramInHand> Programs { get; init; } = [];

    public string? Setter { get; init; }

    public string? ClocksDisagree { get; init; }

    /// <summary>What was known when it opened, for the rules.</summary>
    public required ImmutableSortedDictionary<Register, LastCut> LastCuts { get; init; }

    public required ImmutableSortedDictionary<string, Cycle> LastCycles { get; init; }

    public required ImmutableList<PastValue> Past { get; init; }

    /// <summary>The setup before it on the pallet, as it ended, without the table it began with; null for the
    /// first.</summary>
    public Setup? Previous { get; init; }

    /// <summary>Changes before it opened, as far back as the longest configured limit looks.</summary>
    public ImmutableList<Change> RecentChanges { get; init; } = [];

    /// <summary>The end of a finished cycle that ran under a lift, while it is open whether production began with
    /// it.</summary>
    public DateTimeOffset? DryRunEndUtc { get; init; }

    public bool InProduction => ClosedUtc is not null;

    public bool LiftStands => Lifts.Any(lift => lift.PutTo is null);
}
