using System.Security.Cryptography;
using Microsoft.Win32.SafeHandles;
using ZstdSharp;

namespace SetupAudit.Store.Segments;

/// <summary>
/// Appends blobs to the newest segment. Only the holder of the store's lock has one. Nothing that a row may point to
/// is ever cut or written over: after a crash the next blobs go behind what is whole, or, beside a torn one, into a new
/// segment.
/// </summary>
internal sealed class EvidenceAppender : IDisposable
{
    public const long LargeBytes = 8 * 1024 * 1024;

    private const long UsualSegmentBytes = 64 * 1024 * 1024;
    private const int BufferBytes = 1024 * 1024;
    private const int Level = 3;

    private readonly EvidenceFolder _folder;
    private readonly long _segmentBytes;
    private readonly Compressor _compressor = new(Level);
    private readonly Dictionary<string, BlobPlace> _orphans = new(StringComparer.Ordinal);
    private byte[] _buffer = new byte[2 * BufferBytes];
    private int _buffered;
    private SafeFileHandle? _file;
    private int _segment;
    private long _end;
    private bool _newFile;

    private EvidenceAppender(EvidenceFolder folder, long segmentBytes)
    {
        _folder = folder;
        _segmentBytes = segmentBytes;
    }

    /// <summary>Why the evidence that rows point to is not all there; null where it is.</summary>
    public string? Damage { get; private set; }

    /// <summary>
    /// Opens behind the last blob that a row points to; a segment that reaches so many bytes is full. No number of a
    /// segment is given twice, also where the last ones were emptied.
    /// </summary>
    public static EvidenceAppender Open(
        EvidenceFolder folder, SegmentStanding standing, long segmentBytes = UsualSegmentBytes)
    {
        var last = standing.Last;
        var appender = new EvidenceAppender(folder, segmentBytes);
        Directory.CreateDirectory(folder.Folder);
        var segments = folder.Segments();
        foreach (var segment in segments.Where(segment => segment >= (last?.Segment ?? 0)))
            appender.Adopt(segment, segment == last?.Segment ? last.End : 0,
                isNewest: segment == segments[^1] && segment >= standing.Highest);
        if (last is not null && !segments.Contains(last.Segment))
            appender.Damage = $"The evidence file {folder.SegmentPath(last.Segment)} is missing; the record needs it.";
        if (appender._file is null)
            appender._segment = Math.Max(segments.Count == 0 ? 0 : segments[^1], standing.Highest);
        return appender;
    }

    /// <summary>Appends small bytes; they are on disk only after <see cref="Flush"/>.</summary>
    public BlobPlace Append(string sha256, ReadOnlySpan<byte> bytes)
    {
        RequireHash(sha256, SHA256.HashData(bytes));
        if (_orphans.Remove(sha256, out var orphan)) return orphan;
        Room();
        Widen(BlobHeader.Bytes + Compressor.GetCompressBound(bytes.Length));
        var payload = _buffer.AsSpan(_buffered + BlobHeader.Bytes);
        var stored = _compressor.Wrap(bytes, payload);
        BlobHeader.Write(_buffer.AsSpan(_buffered), sha256, bytes.Length, stored, Crc32C.Of(payload[..stored]));
        var place = new BlobPlace(sha256, _segment, _end + _buffered, BlobHeader.Bytes + stored, bytes.Length);
        _buffered += BlobHeader.Bytes + stored;
        if (_buffered >= BufferBytes) WriteOut();
        return place;
    }

    /// <summary>
    /// Appends a large file in the memory of one block, as it is. Its header is written last, when all is known.
    /// </summary>
    public async Task<BlobPlace> AppendAsync(string sha256, Stream bytes, long sizeBytes, CancellationToken token)
    {
        if (_orphans.Remove(sha256, out var orphan)) return orphan;
        WriteOut();
        Room();
        var (file, start) = (Opened(), _end);
        var position = start + BlobHeader.Bytes;
        PlainFrame.WriteHeader(_buffer, sizeBytes);
        var filled = PlainFrame.HeaderBytes;
        var crc = Crc32C.Start;
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        for (var left = sizeBytes; ;)
        {
            var wanted = (int)Math.Min(left, PlainFrame.BlockBytes);
            var block = _buffer.AsMemory(filled + PlainFrame.BlockHeaderBytes, wanted);
            await ReadAsync(bytes, block, token);
            hash.AppendData(block.Span);
            left -= wanted;
            PlainFrame.WriteBlockHeader(_buffer.AsSpan(filled), wanted, last: left == 0);
            filled += PlainFrame.BlockHeaderBytes + wanted;
            if (left > 0 && filled < BufferBytes) continue;
            crc = Crc32C.Append(crc, _buffer.AsSpan(0, filled));
            RandomAccess.Write(file, _buffer.AsSpan(0, filled), position);
            position += filled;
            filled = 0;
            if (left == 0) break;
        }
        RequireHash(sha256, hash.GetHashAndReset());
        var place = new BlobPlace(sha256, _segment, start, position - start, sizeBytes);
        return WriteHeader(file, place, Crc32C.Finish(crc));
    }

    /// <summary>Returns once all that was appended is on disk.</summary>
    public void Flush()
    {
        WriteOut();
        // A service that runs for years would else hold the room for the largest file it ever saw.
        if (_buffer.Length > 2 * BufferBytes) _buffer = new byte[2 * BufferBytes];
        if (_file is null) return;
        RandomAccess.FlushToDisk(_file);
        if (!_newFile) return;
        // The name of a new segment must survive a power cut too. On Windows the flush of the file does it.
        if (!OperatingSystem.IsWindows() && !Posix.FlushFolder(_folder.Folder))
            throw new IOException($"The folder {_folder.Folder} could not be flushed to disk.");
        _newFile = false;
    }

    /// <summary>
    /// These bytes lie in a segment, but their rows were not committed: used when the same bytes come again.
    /// </summary>
    public void Disown(IEnumerable<BlobPlace> places)
    {
        foreach (var place in places) _orphans.TryAdd(place.Sha256, place);
    }

    /// <summary>Appends nothing more to these segments, and uses nothing that lies in them: they will go.</summary>
    public void Leave(IReadOnlySet<int> segments)
    {
        foreach (var orphan in _orphans.Values.Where(orphan => segments.Contains(orphan.Segment)).ToList())
            _orphans.Remove(orphan.Sha256);
        if (_file is null || !segments.Contains(_segment)) return;
        WriteOut();
        RandomAccess.FlushToDisk(_file);
        _file.Dispose();
        _file = null;
    }

    public void Dispose()
    {
        _file?.Dispose();
        _compressor.Dispose();
    }

    private BlobPlace WriteHeader(SafeFileHandle file, BlobPlace place, uint crc)
    {
        Span<byte> header = stackalloc byte[BlobHeader.Bytes];
        BlobHeader.Write(header, place.Sha256, place.SizeBytes, place.StoredBytes - BlobHeader.Bytes, crc);
        RandomAccess.Write(file, header, place.Position);
        _end = place.End;
        return place;
    }

    // The newest segment is appended to only where every byte in it belongs to a whole blob.
    private void Adopt(int segment, long from, bool isNewest)
    {
        var file = File.OpenHandle(_folder.SegmentPath(segment), FileMode.Open, FileAccess.ReadWrite,
            FileShare.ReadWrite | FileShare.Delete);
        var length = RandomAccess.GetLength(file);
        if (length < from)
            Damage = $"The evidence file {_folder.SegmentPath(segment)} ends at byte {length}, not at {from}.";
        var whole = TailScan.Whole(file, segment, from);
        foreach (var place in whole) _orphans.TryAdd(place.Sha256, place);
        var end = whole.Count == 0 ? from : whole[^1].End;
        if (isNewest && end == length && length < _segmentBytes) (_file, _segment, _end) = (file, segment, end);
        else file.Dispose();
    }

    private void Room()
    {
        if (_file is not null && _end + _buffered < _segmentBytes) return;
        WriteOut();
        if (_file is not null)
        {
            RandomAccess.FlushToDisk(_file);
            _file.Dispose();
        }
        _segment++;
        _file = File.OpenHandle(_folder.SegmentPath(_segment), FileMode.CreateNew, FileAccess.ReadWrite,
            FileShare.ReadWrite | FileShare.Delete);
        _end = 0;
        _newFile = true;
    }

    private void Widen(int neededBytes)
    {
        if (_buffer.Length - _buffered >= neededBytes) return;
        WriteOut();
        if (_buffer.Length < neededBytes) _buffer = new byte[neededBytes];
    }

    private void WriteOut()
    {
        if (_buffered == 0) return;
        RandomAccess.Write(Opened(), _buffer.AsSpan(0, _buffered), _end);
        _end += _buffered;
        _buffered = 0;
    }

    private SafeFileHandle Opened() => _file ?? throw new InvalidOperationException("no segment is open");

    private static async Task ReadAsync(Stream bytes, Memory<byte> block, CancellationToken token)
    {
        try
        {
            await bytes.ReadExactlyAsync(block, token);
        }
        catch (IOException fault)
        {
            throw new SourceFault(fault);
        }
    }

    private static void RequireHash(string sha256, ReadOnlySpan<byte> hash)
    {
        if (Convert.ToHexStringLower(hash) != sha256)
            throw new ArgumentException($"the bytes given do not have the SHA-256 {sha256}", nameof(sha256));
    }
}
