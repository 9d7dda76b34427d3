using System.Globalization;

namespace SetupAudit.Evidence;

/// <summary>
/// A file, or a piece appended to a print-out, as it was taken in. Its bytes are kept by <see cref="Sha256"/>.
/// </summary>
public sealed record Arrival
{
    /// <summary>The machine whose source it came from; empty for a setup sheet, which no machine owns.</summary>
    public required string Machine { get; init; }

    /// <summary>Index of the Watch entry in the machine's configuration; -1 for the sheets folder.</summary>
    public required int Source { get; init; }

    /// <summary>The watched folder as configured and the name below it, with forward slashes.</summary>
    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required long SizeBytes { get; init; }

    /// <summary>The time on the share, in UTC.</summary>
    public required DateTimeOffset ModifiedUtc { get; init; }

    /// <summary>The moment the contents speak of (text, then name, then the file's time), in UTC.</summary>
    public required DateTimeOffset MomentUtc { get; init; }

    /// <summary>For a growing print-out: the file's time when it was last seen before; else null.</summary>
    public DateTimeOffset? PreviousUtc { get; init; }

    /// <summary>When this program took it in: of the record, never of what is derived.</summary>
    public required DateTimeOffset ReceivedUtc { get; init; }

    /// <summary>Where these bytes begin in the file: not 0 only for a piece of a growing print-out.</summary>
    public long OffsetBytes { get; init; }

    /// <summary>The number of the first line of these bytes in the file.</summary>
    public int FirstLine { get; init; } = 1;

    /// <summary>Why the file could not even be opened or held whole; null where the bytes are there.</summary>
    public string? Refused { get; init; }

    /// <summary>Readable, and derived from what the arrival is, not from when it came.</summary>
    public string Id => string.Create(CultureInfo.InvariantCulture,
        $"{(Machine.Length == 0 ? "sheets" : Machine)}@{MomentUtc:yyyyMMdd-HHmmss}/{File}#{ShortHash}{Piece}");

    private string ShortHash => Sha256[..Math.Min(8, Sha256.Length)];

    private string Piece => OffsetBytes == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"+{OffsetBytes}");
}
