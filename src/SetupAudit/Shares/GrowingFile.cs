namespace SetupAudit.Shares;

/// <summary>
/// A print-out, open: says whether it still begins with what was taken, and gives what was appended, in whole lines.
/// </summary>
internal sealed class GrowingFile(IShareFile file, ScanLimits limits, CancellationToken cancel)
{
    private const int ChunkBytes = 64 * 1024;
    private const int HeadBytes = 256;

    /// <summary>
    /// The hash to go on with when the first bytes are still those that were taken; else null. Reads the last block of
    /// them, or all where <paramref name="whole"/> asks for it. The bytes decide, not the size: a share may show an old
    /// size for a while, and a file that only seems shorter must not be read twice.
    /// </summary>
    public PrefixHash? Continue(PrefixMark mark, long size, bool whole)
    {
        if (whole)
        {
            var prefix = new PrefixHash();
            if (!ReadOn(prefix, mark.OffsetBytes)) return TooShort(mark, size);
            return prefix.Mark() == mark ? prefix : null;
        }

        var window = new byte[mark.OffsetBytes - mark.ChainedBytes];
        return ByteRange.Fill(file, window, mark.ChainedBytes) < window.Length
            ? TooShort(mark, size)
            : PrefixHash.Resume(mark, window);
    }

    private static PrefixHash? TooShort(PrefixMark mark, long size) => size < mark.OffsetBytes
        ? null
        : throw EndedEarly();

    // Never taken for "there is nothing": the file would count as looked at until it changes again.
    private static FileChangedException EndedEarly() => new("it ended before its size while it was read");

    /// <summary>
    /// Which of these beginnings, none longer than the file, it has: the longest, the first of equals, else -1.
    /// </summary>
    public int LongestOf(IReadOnlyList<PrefixMark> marks)
    {
        var longest = -1;
        var hash = new PrefixHash();
        foreach (var index in Enumerable.Range(0, marks.Count).OrderBy(i => marks[i].OffsetBytes))
        {
            if (!ReadOn(hash, marks[index].OffsetBytes)) throw EndedEarly();
            if (hash.Mark() != marks[index]) continue;
            if (longest < 0 || marks[index].OffsetBytes > marks[longest].OffsetBytes) longest = index;
        }

        return longest;
    }

    /// <summary>
    /// What lies behind the offset: up to the last line end, or up to the end of the file where an unfinished last
    /// line counts. Null when the file changed while it was read.
    /// </summary>
    public Piece? Next(Growth growth, PrefixHash hash, FileStamp before, bool takeTail)
    {
        if (growth.OffsetBytes == 0) growth = growth with { Width = WidthOfHead(before.SizeBytes) };
        var start = growth.OffsetBytes;
        if (growth.EndsInReturn && SkipFeed(hash, start, growth.Width, before.SizeBytes)) start = hash.OffsetBytes;

        var size = Math.Max(start, before.SizeBytes);
        var end = EndOfLines(start, size, growth.Width);
        if (takeTail) end = EndOfText(end, size, growth.Width, isAll: start == 0);
        var lines = growth.Lines;
        // Two bytes of a line end may fall into two pieces only where an unfinished line was taken.
        var afterReturn = false;
        var range = end == start
            ? null
            : ByteRange.Read(file, start, end - start, limits, isKept: true, Visit, cancel);
        if (end > start && (range is null || !IsUntorn(before, start, end, range)))
        {
            range?.Spool?.Dispose();
            return null;
        }

        return new Piece(start, end - start, growth.Lines + 1, range, growth with
        {
            Mark = hash.Mark(),
            Lines = lines,
            EndsInReturn = end == start ? growth.EndsInReturn && start == growth.OffsetBytes : afterReturn,
            HasTail = !takeTail && end < size,
        });

        void Visit(ReadOnlySpan<byte> bytes)
        {
            hash.Append(bytes);
            lines += LineEnds.Count(bytes, growth.Width, ref afterReturn);
        }
    }

    private bool ReadOn(PrefixHash hash, long to)
    {
        var chunk = new byte[ChunkBytes];
        while (hash.OffsetBytes < to)
        {
            cancel.ThrowIfCancellationRequested();
            var part = chunk.AsSpan(0, (int)Math.Min(ChunkBytes, to - hash.OffsetBytes));
            if (ByteRange.Fill(file, part, hash.OffsetBytes) < part.Length) return false;
            hash.Append(part);
        }

        return true;
    }

    private TextWidth WidthOfHead(long size)
    {
        Span<byte> head = stackalloc byte[(int)Math.Min(HeadBytes, size)];
        if (ByteRange.Fill(file, head, 0) < head.Length) throw EndedEarly();
        return LineEnds.WidthOf(head);
    }

    private bool SkipFeed(PrefixHash hash, long start, TextWidth width, long size)
    {
        Span<byte> next = stackalloc byte[LineEnds.UnitBytes(width)];
        if (size - start < next.Length) return false;
        if (ByteRange.Fill(file, next, start) < next.Length) throw EndedEarly();
        if (LineEnds.AfterLastFeed(next, width) == 0) return false;
        hash.Append(next);
        return true;
    }

    /// <summary>
    /// Just behind the last LF between the two; where there is no LF at all, behind the last CR that is followed.
    /// </summary>
    private long EndOfLines(long start, long size, TextWidth width)
    {
        long afterReturn = 0;
        var chunk = new byte[Math.Min(ChunkBytes, size - start)];
        for (var end = size - ((size - start) % LineEnds.UnitBytes(width)); end > start;)
        {
            cancel.ThrowIfCancellationRequested();
            var from = Math.Max(start, end - chunk.Length);
            var part = chunk.AsSpan(0, (int)(end - from));
            if (ByteRange.Fill(file, part, from) < part.Length) throw EndedEarly();
            var feed = LineEnds.AfterLastFeed(part, width);
            if (feed > 0) return from + feed;
            var carriage = LineEnds.AfterLastReturn(part, width);
            if (afterReturn == 0 && carriage > 0) afterReturn = from + carriage;
            end = from;
        }

        return afterReturn > 0 ? afterReturn : start;
    }

    // Bytes that the server has reserved and not yet got read as NULs: taken as text, they would make the file look
    // rewritten when the real ones come. A file of nothing else is taken as it is.
    private long EndOfText(long endOfLines, long size, TextWidth width, bool isAll)
    {
        var unit = LineEnds.UnitBytes(width);
        size -= size % unit;
        var chunk = new byte[Math.Min(ChunkBytes, Math.Max(0, size - endOfLines))];
        for (var end = size; end > endOfLines;)
        {
            cancel.ThrowIfCancellationRequested();
            var from = Math.Max(endOfLines, end - (chunk.Length - (chunk.Length % unit)));
            var part = chunk.AsSpan(0, (int)(end - from));
            if (ByteRange.Fill(file, part, from) < part.Length) throw EndedEarly();
            var text = part.LastIndexOfAnyExcept((byte)0) + 1;
            if (text > 0) return from + Math.Min(part.Length, text + (unit - 1) - ((text + unit - 1) % unit));
            end = from;
        }

        return isAll && endOfLines == 0 ? size : endOfLines;
    }

    // Growing meanwhile is no fault; then only reading twice shows that these bytes stood still.
    private bool IsUntorn(FileStamp before, long start, long end, ByteRange range)
    {
        var after = file.Stat();
        if (after == before) return true;
        return after.SizeBytes >= end
            && ByteRange.Read(file, start, end - start, limits, isKept: false, visit: null, cancel)?.Sha256
                == range.Sha256;
    }
}
