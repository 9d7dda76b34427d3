using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Store.Segments;

/// <summary>
/// What lies behind the last committed blob after a crash: whole blobs that no row points to yet, and then, perhaps, a
/// torn one. The whole ones are used when the same bytes come again; nothing is cut off.
/// </summary>
internal static class TailScan
{
    private const int ChunkBytes = 1024 * 1024;

    /// <summary>The whole blobs from a position on, up to the first that is not whole.</summary>
    public static IReadOnlyList<BlobPlace> Whole(SafeFileHandle file, int segment, long from)
    {
        var found = new List<BlobPlace>();
        var header = new byte[BlobHeader.Bytes];
        var length = RandomAccess.GetLength(file);
        while (RandomAccess.Read(file, header, from) == header.Length
            && BlobHeader.TryRead(header, out var sha256, out var size, out var payload, out var crc)
            && payload <= length - from - header.Length
            && CrcOf(file, from + header.Length, payload) == crc)
        {
            var place = new BlobPlace(sha256, segment, from, payload + header.Length, size);
            found.Add(place);
            from = place.End;
        }
        return found;
    }

    private static uint CrcOf(SafeFileHandle file, long position, long length)
    {
        var crc = Crc32C.Start;
        var chunk = new byte[Math.Min(ChunkBytes, length)];
        while (length > 0)
        {
            var read = RandomAccess.Read(file, chunk.AsSpan(0, (int)Math.Min(chunk.Length, length)), position);
            if (read == 0) break;
            crc = Crc32C.Append(crc, chunk.AsSpan(0, read));
            position += read;
            length -= read;
        }
        return Crc32C.Finish(crc);
    }
}
