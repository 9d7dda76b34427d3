using System.Buffers;
using System.Numerics;
using System.Text;

namespace SetupAudit.Readings;

/// <summary>
/// The text of a file as a reader can read it: UTF-8 without mark, seven-bit characters without parity, no filler.
/// Nothing is copied where there is nothing to do.
/// </summary>
public readonly ref struct PlainText
{
    // What serial captures leave between the characters of a text and means nothing: NUL, the ends of text and of
    // transmission, the four device controls, the old end-of-file mark and rub-out.
    private static readonly byte[] FillerCodes = [0x00, 0x03, 0x04, 0x11, 0x12, 0x13, 0x14, 0x1A, 0x7F];

    private static readonly SearchValues<byte> Filler = SearchValues.Create(FillerCodes);

    private static readonly SearchValues<byte> Suspect =
        SearchValues.Create([.. FillerCodes, .. Enumerable.Range(0x80, 0x80).Select(code => (byte)code)]);

    private PlainText(ReadOnlySpan<byte> bytes, bool endsInNuls)
    {
        Bytes = bytes;
        EndsInNuls = endsInNuls;
    }

    public ReadOnlySpan<byte> Bytes { get; }

    /// <summary>
    /// Whether the file ended in NULs: room reserved for a copy that never came, or the trailer of a tape.
    /// </summary>
    public bool EndsInNuls { get; }

    public static PlainText Of(ReadOnlySpan<byte> file)
    {
        if (!file.ContainsAny(Suspect)) return new PlainText(file, endsInNuls: false);
        if (file is [0xEF, 0xBB, 0xBF, ..]) file = file[3..];
        if (WideOrder(file) is { } order) file = Narrow(file, order);
        var hasHigh = file.ContainsAnyInRange((byte)0x80, (byte)0xFF);
        var isEven = hasHigh && IsEvenParity(file);
        if (!isEven && !file.ContainsAny(Filler)) return new PlainText(file, endsInNuls: false);
        return new PlainText(Clean(file, isEven), file[^1] == 0);
    }

    private static Encoding? WideOrder(ReadOnlySpan<byte> file)
    {
        if (file is [0xFF, 0xFE, ..]) return Encoding.Unicode;
        if (file is [0xFE, 0xFF, ..]) return Encoding.BigEndianUnicode;
        // Without a mark: nearly every second byte of a Latin text is NUL, and none of the others are.
        const int sampleBytes = 1024;
        var sample = file[..Math.Min(sampleBytes, file.Length / 2 * 2)];
        int evenNuls = 0, oddNuls = 0;
        for (var at = 0; at < sample.Length; at++)
            if (sample[at] == 0) _ = (at & 1) == 0 ? evenNuls++ : oddNuls++;
        var most = sample.Length / 2 * 9 / 10;
        return sample.Length < 4 ? null
            : oddNuls > most && evenNuls == 0 ? Encoding.Unicode
            : evenNuls > most && oddNuls == 0 ? Encoding.BigEndianUnicode
            : null;
    }

    private static byte[] Narrow(ReadOnlySpan<byte> file, Encoding order)
    {
        if (file is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..]) file = file[2..];
        // A last byte without its partner is the cut of the file, and no character.
        file = file[..(file.Length / 2 * 2)];
        return Encoding.UTF8.GetBytes(order.GetString(file));
    }

    private static bool IsEvenParity(ReadOnlySpan<byte> file)
    {
        foreach (var code in file)
            if ((BitOperations.PopCount(code) & 1) != 0) return false;
        return true;
    }

    private static ReadOnlySpan<byte> Clean(ReadOnlySpan<byte> file, bool isEven)
    {
        var clean = new byte[file.Length];
        var length = 0;
        foreach (var code in file)
        {
            var character = isEven ? (byte)(code & 0x7F) : code;
            if (!Filler.Contains(character)) clean[length++] = character;
        }
        return clean.AsSpan(0, length);
    }
}
