namespace SetupAudit.Readings;

/// <summary>All that one document of an agent says of one moment.</summary>
public sealed record StreamMoment
{
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>The first line that says something of this moment.</summary>
    public required int Line { get; init; }

    public required StreamRange Range { get; init; }

    /// <summary>Programs first, then offsets and counts, then execution and faults; else by their numbers.</summary>
    public IReadOnlyList<StreamObservation> Observed { get; init; } = [];

    /// <summary>
    /// Up to this moment the document says how offsets stood: what it shows of them. Null for any other moment.
    /// </summary>
    public IReadOnlyList<StreamShown>? Shows { get; init; }

    /// <summary>The agent wrote the document at this moment.</summary>
    public bool WrittenHere { get; init; }

    public bool IsEnd => Shows is not null;

    /// <summary>The names of all it tells.</summary>
    public IEnumerable<string> Names => Observed.SelectMany(one => one.Names(Range.Instance));

    /// <summary>Without what was told already.</summary>
    public StreamMoment Without(IReadOnlySet<string> told) => told.Count == 0 ? this : this with
    {
        Observed = [.. Observed.Select(one => one.Without(Range.Instance, told)).OfType<StreamObservation>()],
    };
}
