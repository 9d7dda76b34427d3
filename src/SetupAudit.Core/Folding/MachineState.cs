using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>All that the fold knows of a machine after a sighting. Immutable: keeping a state is keeping a
/// reference.</summary>
public sealed record MachineState
{
    public required string Machine { get; init; }

    public FoldPosition Position { get; init; } = FoldPosition.Start;

    /// <summary>The last sighting opened a setup: the state before it is worth keeping.</summary>
    public bool OpenedHere { get; init; }

    public OffsetTable Table { get; init; } = OffsetTable.Empty;

    /// <summary>Older states of each register, youngest last, bounded.</summary>
    public ImmutableSortedDictionary<Register, ImmutableList<RegisterPast>> Pasts { get; init; } =
        ImmutableSortedDictionary<Register, ImmutableList<RegisterPast>>.Empty;

    /// <summary>
    /// The keys each dump listed last, by source and file: of the files dumped last, for a control that gives every
    /// dump a name of its own would fill it for ever.
    /// </summary>
    public ImmutableSortedDictionary<string, ImmutableHashSet<OffsetKey>> Listed { get; init; } =
        ImmutableSortedDictionary.Create<string, ImmutableHashSet<OffsetKey>>(StringComparer.Ordinal);

    /// <summary>The files of <see cref="Listed"/>, the one dumped last at the end.</summary>
    public ImmutableList<string> ListedOrder { get; init; } = [];

    /// <summary>The table before a mass loss that has not come back; null where none stands.</summary>
    public OffsetTable? LostFrom { get; init; }

    /// <summary>Print-out lines that may explain what a later dump shows, oldest first, bounded.</summary>
    public ImmutableList<TouchRecord> Touches { get; init; } = [];

    /// <summary>Changes as far back as the longest configured limit looks, oldest first.</summary>
    public ImmutableList<Change> Recent { get; init; } = [];

    /// <summary>Runs of programs, oldest first, bounded.</summary>
    public ImmutableList<ProgramSpan> Runs { get; init; } = [];

    /// <summary>The program in hand, as the last print-out that told one says.</summary>
    public string? InHand { get; init; }

    /// <summary>The cycle that runs now; null where none does.</summary>
    public Cycle? Running { get; init; }

    /// <summary>Empty where print-outs tell no pallets.</summary>
    public string Pallet { get; init; } = "";

    public string? Setter { get; init; }

    /// <summary>The current setup of each pallet.</summary>
    public ImmutableSortedDictionary<string, LiveSetup> Live { get; init; } =
        ImmutableSortedDictionary.Create<string, LiveSetup>(StringComparer.Ordinal);

    public ImmutableSortedDictionary<Register, LastCut> LastCuts { get; init; } =
        ImmutableSortedDictionary<Register, LastCut>.Empty;

    public ImmutableSortedDictionary<string, Cycle> LastCycles { get; init; } =
        ImmutableSortedDictionary.Create<string, Cycle>(StringComparer.Ordinal);

    /// <summary>What earlier setups that nobody doubts teach, oldest first, bounded per offset.</summary>
    public ImmutableList<PastValue> Past { get; init; } = [];

    /// <summary>The last setups that are over, oldest first, bounded: a review may come to change what they
    /// teach.</summary>
    public ImmutableList<GradedSetup> Graded { get; init; } = [];

    /// <summary>What each source's sightings say of the source itself, by its Watch index.</summary>
    public ImmutableSortedDictionary<int, SourceSight> Sources { get; init; } =
        ImmutableSortedDictionary<int, SourceSight>.Empty;

    /// <summary>What is known of the agents behind sources, by their Watch index.</summary>
    public ImmutableSortedDictionary<int, StreamState> Streams { get; init; } =
        ImmutableSortedDictionary<int, StreamState>.Empty;

    /// <summary>How far a source's own times lie from the share's, where it is more than a few minutes, in words; null
    /// where all agree.</summary>
    public string? ClocksDisagree =>
        Sources.Values.Select(source => source.Print?.Says).FirstOrDefault(says => says is not null);

    /// <summary>When each program's text or sheet was first asked for: what a late one changes begins there.</summary>
    public ImmutableSortedDictionary<string, DateTimeOffset> FirstAsked { get; init; } =
        ImmutableSortedDictionary.Create<string, DateTimeOffset>(StringComparer.Ordinal);

    /// <summary>Ids already given for the present second.</summary>
    public ImmutableSortedDictionary<string, int> GivenIds { get; init; } =
        ImmutableSortedDictionary.Create<string, int>(StringComparer.Ordinal);

    public DateTimeOffset GivenUtc { get; init; }

    /// <summary>What was finished, or belongs to no setup, since the state was last drained.</summary>
    public FoldOutput Output { get; init; } = FoldOutput.Empty;

    /// <summary>The same state with nothing left to hand over.</summary>
    public MachineState Drained() => this with { Output = FoldOutput.Empty };
}
