using System.Numerics;
using System.Text;

namespace SetupAudit.Readings.Fuzzing;

/// <summary>Does to bytes what a mutation says; the same for the same, on every machine.</summary>
public static class Mutator
{
    /// <summary>Larger inputs only cost time.</summary>
    public const int BytesMost = 96 * 1024;

    private static readonly byte[][] Tokens = [.. new[]
    {
        "G10 L2 P1", "G10", "G11", "G90", "G91", "G20", "G21", "L20", "P0", "P999999999999", "X", "X-", "X--1", "X1.2.3", "Z+.",
        "R", "U.", "#", "#5221", "#[", "#500=", "[1/0]", "[0-", "**", "MOD", "ATAN[1]/[0]", "SQRT[-1]", "LN[0]", "EXP[9999]",
        "#<_a>", "%", "%\n", "O", "O0000000001", "N99999999999", "M98 P1", "M99", "G65 P7040 S54 Q", "O100 SUB", "O100 WHILE [1 EQ 1]",
        "O100 ENDWHILE", "O100 CALL", "IF [1 EQ 1] GOTO 1", "WHILE [1] DO1", "END1", "GOTO 1", "(", ")", "(()", ";", "/", "/1", "\"",
        "\"\"", "\n\"", ",", ";;", "\t", "=", "1e308", "-1e308", "NaN", "Infinity", "79228162514264337593543950335", ".",
        "0.0000000000000000000000000000000001", "5221 -1", "5221=", "N5221", "G54", "G54.1 P", "G54.1P0", "G59.9", "COMMON", "T", "T0",
        "{", "}", "[", "]", ":", "null", "true", "\\u0000", "\\uD800", "//", "/*", "*/", "\"Like\":", "\"Machines\":", "\"Watch\":[",
        "2026-02-30 25:61:61", "0000-00-00", "9999-12-31 23:59:59", "CYCLE START", "TOUCH", "\u00e9", "\u202e", "\ufeff", "\ud83d\ude00",
    }.Select(Encoding.UTF8.GetBytes), [0xFF, 0xFE], [0xFE, 0xFF], [0xC0, 0x80], [0xED, 0xA0, 0x80], [0x1A], [0x7F]];

    public static byte[] Apply(byte[] file, IEnumerable<Mutation> mutations, IReadOnlyList<byte[]> others)
    {
        foreach (var mutation in mutations)
        {
            file = Apply(file, mutation, others);
            if (file.Length > BytesMost) file = file[..BytesMost];
        }
        return file;
    }

    private static byte[] Apply(byte[] file, Mutation one, IReadOnlyList<byte[]> others)
    {
        var at = (int)((long)one.Where * file.Length >> 16);
        var size = Math.Min(one.Size, file.Length - at);
        return one.Kind switch
        {
            MutationKind.FlipBit => At(file, at, code => (byte)(code ^ 1 << one.Pick % 8)),
            MutationKind.SetByte => At(file, at, _ => (byte)(one.Pick & 0xFF)),
            MutationKind.PutToken => [.. file[..at], .. Tokens[one.Pick % Tokens.Length], .. file[at..]],
            MutationKind.Cut => file[..at],
            MutationKind.TakeOut => [.. file[..at], .. file[(at + size)..]],
            MutationKind.Repeat => Repeat(file, at, Math.Min(size, 64), 1 + one.Pick % 2000),
            MutationKind.Splice => Splice(file, at, others[one.Pick % others.Count], one.Size),
            MutationKind.HugeNumber => Huge(file, at, 1 + one.Size % 400),
            MutationKind.Nest => Nest(file, at, "[{(\"#-"u8[one.Pick % 6], 1 + one.Size % 20_000),
            MutationKind.Case => [.. file.Select(code => char.IsAsciiLetter((char)code) ? (byte)(code ^ 0x20) : code)],
            MutationKind.LineEnds => Lines(file, one.Pick),
            MutationKind.Wide => Wide(file, one.Pick),
            MutationKind.EvenParity =>
                [.. file.Select(code => (byte)(code & 0x7F | (BitOperations.PopCount((uint)code & 0x7F) % 2) << 7))],
            MutationKind.Nuls => [.. file[..at], .. new byte[one.Size % 600], .. one.Pick % 2 == 0 ? file[at..] : []],
            _ => throw new InvalidOperationException($"{one.Kind} is not known"),
        };
    }

    private static byte[] At(byte[] file, int at, Func<byte, byte> change)
    {
        if (file.Length == 0) return file;
        var changed = (byte[])file.Clone();
        changed[at] = change(changed[at]);
        return changed;
    }

    private static byte[] Repeat(byte[] file, int at, int size, int times)
    {
        times = Math.Min(times, BytesMost / Math.Max(1, size));
        return [.. file[..at], .. Enumerable.Repeat(file[at..(at + size)], times).SelectMany(part => part), .. file[at..]];
    }

    private static byte[] Splice(byte[] file, int at, byte[] other, int size)
    {
        var from = other.Length == 0 ? 0 : size % other.Length;
        return [.. file[..at], .. other[from..], .. size % 2 == 0 ? file[at..] : []];
    }

    // The first number from here on gets as many digits more.
    private static byte[] Huge(byte[] file, int at, int digits)
    {
        var number = file.AsSpan(at).IndexOfAnyInRange((byte)'0', (byte)'9');
        if (number < 0) return file;
        return [.. file[..(at + number)], .. Enumerable.Repeat((byte)'9', digits), .. file[(at + number)..]];
    }

    private static byte[] Nest(byte[] file, int at, byte opening, int depth) =>
        [.. file[..at], .. Enumerable.Repeat(opening, depth), .. file[at..]];

    private static byte[] Lines(byte[] file, int pick)
    {
        var end = (pick % 4) switch { 0 => "\r", 1 => "\r\n", 2 => "\n\n", _ => "\r\r\n" };
        return Encoding.Latin1.GetBytes(Encoding.Latin1.GetString(file).ReplaceLineEndings(end));
    }

    private static byte[] Wide(byte[] file, int pick)
    {
        var text = Encoding.Latin1.GetString(file);
        var order = pick % 2 == 0 ? Encoding.Unicode : Encoding.BigEndianUnicode;
        return pick % 3 == 0 ? order.GetBytes(text) : [.. order.GetPreamble(), .. order.GetBytes(text)];
    }
}
