using System.Runtime.InteropServices;

namespace SetupAudit.Shares;

/// <summary>Finds and counts line ends in bytes: LF, CR LF, and CR alone.</summary>
internal static class LineEnds
{
    private const int HeadBytes = 256;

    /// <summary>By the mark at the start of a file, else by which half of the byte pairs is zero.</summary>
    public static TextWidth WidthOf(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith<byte>([0xFF, 0xFE])) return TextWidth.Utf16Little;
        if (head.StartsWith<byte>([0xFE, 0xFF])) return TextWidth.Utf16Big;
        head = head[..(Math.Min(head.Length, HeadBytes) & ~1)];
        int even = 0, odd = 0;
        for (var i = 0; i < head.Length; i++)
        {
            if (head[i] == 0) _ = (i & 1) == 0 ? even++ : odd++;
        }

        var most = head.Length * 3 / 8;
        if (head.Length >= 4 && odd > most && even == 0) return TextWidth.Utf16Little;
        return head.Length >= 4 && even > most && odd == 0 ? TextWidth.Utf16Big : TextWidth.Bytes;
    }

    /// <summary>Bytes up to and with the last LF; 0 where there is none.</summary>
    public static int AfterLastFeed(ReadOnlySpan<byte> bytes, TextWidth width) => width == TextWidth.Bytes
        ? bytes.LastIndexOf((byte)'\n') + 1
        : (Units(bytes).LastIndexOf(Unit('\n', width)) + 1) * 2;

    /// <summary>Bytes up to and with the last CR that is not the last character; 0 where there is none.</summary>
    public static int AfterLastReturn(ReadOnlySpan<byte> bytes, TextWidth width)
    {
        if (bytes.IsEmpty) return 0;
        return width == TextWidth.Bytes
            ? bytes[..^1].LastIndexOf((byte)'\r') + 1
            : (Units(bytes[..^Math.Min(2, bytes.Length)]).LastIndexOf(Unit('\r', width)) + 1) * 2;
    }

    /// <summary>Counts line ends; a CR at the end of one call and an LF at the start of the next are one.</summary>
    public static int Count(ReadOnlySpan<byte> bytes, TextWidth width, ref bool afterReturn) => width == TextWidth.Bytes
        ? Count(bytes, (byte)'\r', (byte)'\n', ref afterReturn)
        : Count(Units(bytes), Unit('\r', width), Unit('\n', width), ref afterReturn);

    public static int UnitBytes(TextWidth width) => width == TextWidth.Bytes ? 1 : 2;

    private static int Count<T>(ReadOnlySpan<T> text, T carriageReturn, T lineFeed, ref bool afterReturn)
        where T : IEquatable<T>
    {
        var count = 0;
        while (!text.IsEmpty)
        {
            if (afterReturn && text[0].Equals(lineFeed)) text = text[1..];
            afterReturn = false;
            var next = text.IndexOfAny(carriageReturn, lineFeed);
            if (next < 0) break;
            count++;
            afterReturn = text[next].Equals(carriageReturn);
            text = text[(next + 1)..];
        }

        return count;
    }

    private static ReadOnlySpan<ushort> Units(ReadOnlySpan<byte> bytes) => MemoryMarshal.Cast<byte, ushort>(bytes);

    private static ushort Unit(char letter, TextWidth width) =>
        (width == TextWidth.Utf16Little) == BitConverter.IsLittleEndian
            ? letter
            : System.Buffers.Binary.BinaryPrimitives.ReverseEndianness((ushort)letter);
}
