using System.Runtime.InteropServices;

namespace SetupAudit.Shares;

/// <summary>
/// A version of a file, or a piece appended to a print-out, that was read whole and untorn; or the reason why it was
/// refused. It counts as taken in only when <see cref="IIntake.TakeIn"/> has returned.
/// </summary>
public sealed record FoundFile
{
    private readonly Func<Stream>? _open;

    public FoundFile(Func<Stream>? open = null) => _open = open;

    public required ShareSource Source { get; init; }

    /// <summary>The name below the watched folder, with forward slashes.</summary>
    public required string Name { get; init; }

    /// <summary>
    /// Of the bytes handed out: for a piece of a print-out, the piece. Of a refused file, as it was listed.
    /// </summary>
    public required long SizeBytes { get; init; }

    /// <summary>The time on the share.</summary>
    public required DateTimeOffset ModifiedUtc { get; init; }

    /// <summary>Of the bytes handed out, in lower-case hexadecimal; empty where the file was refused.</summary>
    public required string Sha256 { get; init; }

    /// <summary>
    /// The bytes of a file up to <see cref="ScanLimits.HeldBytes"/>; null for a larger or a refused one.
    /// </summary>
    public ReadOnlyMemory<byte>? Bytes { get; init; }

    /// <summary>Where the bytes begin in the file: not 0 only for a piece of a growing print-out.</summary>
    public long OffsetBytes { get; init; }

    /// <summary>The number of the first line of the bytes in the file, from 1.</summary>
    public int FirstLine { get; init; } = 1;

    /// <summary>For a print-out seen before: its time when it was last seen without these bytes.</summary>
    public DateTimeOffset? PreviousUtc { get; init; }

    /// <summary>Why the file was not taken, for people; null where the bytes are there.</summary>
    public string? Refused { get; init; }

    /// <summary>The watched folder as configured and the name below it, as an arrival carries it.</summary>
    public string File => $"{Source.Watch.Folder}/{Name}";

    /// <summary>
    /// The bytes, as often as wanted until <see cref="IIntake.TakeIn"/> returns. For a large file the stream throws
    /// <see cref="FileChangedException"/> at its end when it did not give the bytes of <see cref="Sha256"/>.
    /// </summary>
    public Stream OpenStream()
    {
        if (Bytes is not { } held)
            return _open?.Invoke() ?? throw new InvalidOperationException($"{Name} was refused and has no bytes.");
        return MemoryMarshal.TryGetArray(held, out var array)
            ? new MemoryStream(array.Array ?? [], array.Offset, array.Count, writable: false)
            : new MemoryStream(held.ToArray(), writable: false);
    }
}
