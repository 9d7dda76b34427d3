using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>
/// Evidence at one moment, the unit the derivation folds over: a whole dump, one line of a print-out, or what
/// an agent's document says of one moment.
/// </summary>
public sealed record Sighting
{
    /// <summary>The state shown is no younger than this. Sightings are folded in this order.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>
    /// The state shown may be as old as this: earlier than <see cref="AtUtc"/> for a source with a lag or a line
    /// without a time.
    /// </summary>
    public required DateTimeOffset EarliestUtc { get; init; }

    public required int Source { get; init; }

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    /// <summary>
    /// The print-out line, or the first line of an agent's document that speaks of the moment; 0 for a dump.
    /// </summary>
    public required int Line { get; init; }

    /// <summary>Id of the arrival.</summary>
    public required string Arrival { get; init; }

    /// <summary>What a dump says; null for a print-out line.</summary>
    public IReadOnlyList<OffsetReading>? Offsets { get; init; }

    /// <summary>What a print-out line says; null for a dump.</summary>
    public PrintLine? Print { get; init; }

    /// <summary>What a dump holds that is no offset but configured as measured; empty for a print-out line.</summary>
    public IReadOnlyList<PrintLine> Measured { get; init; } = [];

    /// <summary>What a document of an agent says of this moment; null for anything else.</summary>
    public StreamMoment? Stream { get; init; }

    /// <summary>How far the arrival of the faults was read, where the faults alone do not say so.</summary>
    public ArrivalStatus? Status { get; init; }

    /// <summary>
    /// What in the arrival could not be read; an arrival with faults and nothing read is a sighting of its own.
    /// </summary>
    public IReadOnlyList<Fault> Faults { get; init; } = [];

    /// <summary>The file's time on the share, to compare with the times its lines give.</summary>
    public DateTimeOffset? ShareUtc { get; init; }

    /// <summary>
    /// What is wrong with the file's time, in words: later than when it was taken in, or earlier than before. Only on
    /// a sighting of its own, whose line is -1, before the others of its arrival.
    /// </summary>
    public string? Clock { get; init; }

    /// <summary>
    /// Why what the arrival says is kept and not used, in words: it came after evidence up to its moment was dropped.
    /// Only on a sighting of its own, which stands for the arrival.
    /// </summary>
    public string? TooLate { get; init; }

    public SourceLine At(int line) => new(File, Sha256, line);

    /// <summary>
    /// Contract promise 2: by moment, then Watch index, path (ordinal), SHA-256, line; never by arrival.
    /// </summary>
    public static int Compare(Sighting left, Sighting right)
    {
        var order = left.AtUtc.CompareTo(right.AtUtc);
        if (order == 0) order = left.Source.CompareTo(right.Source);
        if (order == 0) order = string.CompareOrdinal(left.File, right.File);
        if (order == 0) order = string.CompareOrdinal(left.Sha256, right.Sha256);
        return order == 0 ? left.Line.CompareTo(right.Line) : order;
    }
}
