using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace SetupAudit.Records;

/// <summary>
/// What a record says of itself at one size: its origin, how many entries it has, and the root of their tree. Its text
/// is that of a tlog-checkpoint (C2SP) without extension lines; a <see cref="SignedNote"/> carries it.
/// </summary>
public sealed record Checkpoint(string Origin, long Size, TreeHash Root)
{
    private const int LinesOfText = 3;

    /// <summary>Reads the text of a checkpoint, only as <see cref="ToString"/> writes it. Does not throw.</summary>
    public static bool TryRead(
        string text, [NotNullWhen(true)] out Checkpoint? checkpoint, [NotNullWhen(false)] out string? reason)
    {
        checkpoint = null;
        var lines = text.Split('\n');
        reason = lines.Length != LinesOfText + 1 || lines[LinesOfText].Length != 0
            ? "a checkpoint has three lines: origin, size and root, each ended by a line feed"
            : null;
        if (reason is not null) return false;
        var size = 0L;
        if (!KeyName.IsOne(lines[0])) reason = "its origin is not a name";
        else if (!long.TryParse(lines[1], NumberStyles.None, CultureInfo.InvariantCulture, out size))
            reason = "its size is not a whole number";
        else if (!NoteText.TryBase64(lines[2], out var bytes) || !TreeHash.TryRead(bytes, out var root))
            reason = "its root is not a hash of 32 bytes in base64";
        else if (new Checkpoint(lines[0], size, root) is var read && read.ToString() != text)
            reason = "it is not written the one way a checkpoint is written";
        else checkpoint = read;
        return checkpoint is not null;
    }

    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Origin}\n{Size}\n{Root.ToBase64()}\n");
}
