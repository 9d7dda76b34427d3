using System.Diagnostics.CodeAnalysis;
using System.Text;

namespace SetupAudit.Records;

/// <summary>
/// A text and the signatures under it, in the signed-note format (C2SP): the text ends in a line feed, an empty line
/// follows, then a line for each signature. Only what is written back byte for byte is read.
/// </summary>
public sealed record SignedNote(string Text, IReadOnlyList<NoteSignature> Signatures)
{
    public const int BytesMost = 64 * 1024;

    /// <summary>The format asks for at least 16; more than this are refused.</summary>
    public const int SignaturesMost = 64;

    private const string LineStart = "— ";

    /// <summary>Reads a note; the reason says what is wrong with one that is not. Does not throw.</summary>
    public static bool TryRead(
        ReadOnlySpan<byte> bytes, [NotNullWhen(true)] out SignedNote? note, [NotNullWhen(false)] out string? reason)
    {
        note = null;
        if (bytes.Length > BytesMost)
        {
            reason = $"it has more than {BytesMost} bytes";
            return false;
        }
        if (!NoteText.TryDecode(bytes, out var whole, out reason)) return false;
        // At the last empty line: the text itself may hold some.
        var split = whole.LastIndexOf("\n\n", StringComparison.Ordinal);
        if (split < 0)
        {
            reason = "no empty line parts its text from its signatures";
            return false;
        }
        if (!TrySignatures(whole[(split + 2)..], out var signatures, out reason)) return false;
        var read = new SignedNote(whole[..(split + 1)], signatures);
        if (!read.ToBytes().AsSpan().SequenceEqual(bytes))
        {
            reason = "it is not written the one way a note is written";
            return false;
        }
        note = read;
        return true;
    }

    /// <summary>The note as it is kept and sent.</summary>
    public byte[] ToBytes() => NoteText.Encode(ToString());

    public override string ToString()
    {
        var text = new StringBuilder(Text).Append('\n');
        foreach (var line in Signatures)
            text.Append(LineStart).Append(line.Name).Append(' ')
                .Append(Convert.ToBase64String(NoteText.WithKeyId(line.KeyId, line.Signature))).Append('\n');
        return text.ToString();
    }

    private static bool TrySignatures(
        string lines, out IReadOnlyList<NoteSignature> signatures, [NotNullWhen(false)] out string? reason)
    {
        var read = new List<NoteSignature>();
        signatures = read;
        reason = lines.Length == 0 ? "it has no signature"
            : lines.EndsWith('\n') ? null
            : "its last line is not ended";
        if (reason is not null) return false;
        foreach (var line in lines[..^1].Split('\n'))
        {
            if (read.Count == SignaturesMost) reason = $"it has more than {SignaturesMost} signatures";
            else if (TrySignature(line, out var signature)) read.Add(signature);
            else reason = $"line {read.Count + 1} of its signatures is none";
            if (reason is not null) return false;
        }
        return true;
    }

    private static bool TrySignature(string line, [NotNullWhen(true)] out NoteSignature? signature)
    {
        signature = null;
        if (!line.StartsWith(LineStart, StringComparison.Ordinal)) return false;
        var blank = line.LastIndexOf(' ');
        if (blank < LineStart.Length) return false;
        var name = line[LineStart.Length..blank];
        if (!KeyName.IsOne(name) || !NoteText.TryBase64(line[(blank + 1)..], out var bytes)) return false;
        if (bytes.Length <= NoteText.KeyIdBytes) return false;
        signature = new NoteSignature(name, NoteText.KeyIdOf(bytes), bytes[NoteText.KeyIdBytes..]);
        return true;
    }
}
