using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Win32.SafeHandles;
using ZstdSharp;

namespace SetupAudit.Store.Segments;

/// <summary>
/// The segment files that hold the evidence: their names, and reading a blob back with its SHA-256 checked.
/// </summary>
internal sealed class EvidenceFolder : IDisposable
{
    public const string Name = "evidence";

    private const int OpenSegments = 16;
    private const int LongestWhole = 64 * 1024 * 1024;

    private readonly ConcurrentDictionary<int, SafeFileHandle> _segments = new();
    private readonly ConcurrentBag<Decompressor> _decompressors = [];

    public EvidenceFolder(string storeFolder) => Folder = Path.Combine(storeFolder, Name);

    public string Folder { get; }

    public string SegmentPath(int segment) =>
        Path.Combine(Folder, string.Create(CultureInfo.InvariantCulture, $"segment-{segment:000000}.seg"));

    /// <summary>The numbers of the segment files that exist, in order.</summary>
    public IReadOnlyList<int> Segments() => !Directory.Exists(Folder) ? [] :
    [
        .. Directory.EnumerateFiles(Folder, "segment-*.seg")
            .Select(path => Path.GetFileNameWithoutExtension(path)["segment-".Length..])
            .Where(text => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out _))
            .Select(text => int.Parse(text, CultureInfo.InvariantCulture)).Order(),
    ];

    /// <summary>The bytes of a blob, checked. For one that is too large to hold, <see cref="Open"/>.</summary>
    public byte[] Read(BlobPlace place)
    {
        if (place.SizeBytes > LongestWhole)
            throw new ArgumentOutOfRangeException(nameof(place), place.SizeBytes, "too large to hold: open it");
        var stored = ReadStored(place);
        var bytes = new byte[place.SizeBytes];
        if (!TryUnpack(stored.AsSpan(BlobHeader.Bytes), bytes)
            || Convert.ToHexStringLower(SHA256.HashData(bytes)) != place.Sha256)
            throw Damaged(place);
        return bytes;
    }

    /// <summary>
    /// A stream over a blob of any size. Its last read throws where the bytes are not what they were.
    /// </summary>
    public Stream Open(BlobPlace place)
    {
        if (place.SizeBytes <= LongestWhole / 8) return new MemoryStream(Read(place), writable: false);
        RequireHeader(place);
        var payload = new SegmentSlice(
            OpenFile(place), place.Position + BlobHeader.Bytes, place.StoredBytes - BlobHeader.Bytes);
        return new CheckedStream(new DecompressionStream(payload, PlainFrame.BlockBytes), place.SizeBytes, place.Sha256,
            () => Damaged(place));
    }

    public void Dispose()
    {
        foreach (var handle in _segments.Values) handle.Dispose();
        foreach (var decompressor in _decompressors) decompressor.Dispose();
        _segments.Clear();
        _decompressors.Clear();
    }

    private byte[] ReadStored(BlobPlace place)
    {
        var stored = new byte[place.StoredBytes];
        return RandomAccess.Read(Segment(place), stored, place.Position) == stored.Length && HeaderFits(stored, place)
            ? stored
            : throw Damaged(place);
    }

    private void RequireHeader(BlobPlace place)
    {
        Span<byte> header = stackalloc byte[BlobHeader.Bytes];
        if (RandomAccess.Read(Segment(place), header, place.Position) < header.Length || !HeaderFits(header, place))
            throw Damaged(place);
    }

    private static bool HeaderFits(ReadOnlySpan<byte> header, BlobPlace place) =>
        BlobHeader.TryRead(header, out var sha256, out var size, out var payload, out _)
        && sha256 == place.Sha256 && size == place.SizeBytes && payload + BlobHeader.Bytes == place.StoredBytes;

    private bool TryUnpack(ReadOnlySpan<byte> payload, Span<byte> target)
    {
        if (!_decompressors.TryTake(out var decompressor)) decompressor = new Decompressor();
        try
        {
            return decompressor.Unwrap(payload, target) == target.Length;
        }
        catch (ZstdException)
        {
            return false;
        }
        finally
        {
            _decompressors.Add(decompressor);
        }
    }

    private SafeFileHandle Segment(BlobPlace place)
    {
        if (_segments.TryGetValue(place.Segment, out var known)) return known;
        // A handle in the middle of a read closes when that read lets go of it.
        if (_segments.Count >= OpenSegments && _segments.Keys.Min() is var oldest
            && _segments.TryRemove(oldest, out var old))
            old.Dispose();
        var opened = OpenFile(place);
        var kept = _segments.GetOrAdd(place.Segment, opened);
        if (kept != opened) opened.Dispose();
        return kept;
    }

    private SafeFileHandle OpenFile(BlobPlace place)
    {
        try
        {
            return File.OpenHandle(SegmentPath(place.Segment), FileMode.Open, FileAccess.Read,
                FileShare.ReadWrite | FileShare.Delete, FileOptions.RandomAccess);
        }
        catch (Exception fault) when (fault is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new StoreException(StoreFaultKind.Permanent,
                $"The evidence file {SegmentPath(place.Segment)} is missing; it held the bytes {place.Sha256}.",
                fault);
        }
    }

    private StoreException Damaged(BlobPlace place) => new(StoreFaultKind.Permanent, string.Create(
        CultureInfo.InvariantCulture,
        $"Evidence is damaged: the bytes with SHA-256 {place.Sha256} no longer stand at byte {place.Position} of " +
        $"{SegmentPath(place.Segment)}."));
}
