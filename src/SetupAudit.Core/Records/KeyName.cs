using System.Text;

namespace SetupAudit.Records;

/// <summary>The name of a key and of the record it signs, as the signed-note format (C2SP) allows it.</summary>
public static class KeyName
{
    public const int LettersMost = 255;

    /// <summary>Not empty, no white space, no control or replacement character, no plus sign; does not throw.</summary>
    public static bool IsOne(ReadOnlySpan<char> name)
    {
        if (name.Length is 0 or > LettersMost) return false;
        // Half of a surrogate pair comes out as the replacement character.
        foreach (var letter in name.EnumerateRunes())
            if (letter.Value == '+' || letter == Rune.ReplacementChar || Rune.IsWhiteSpace(letter)
                || Rune.IsControl(letter))
                return false;
        return true;
    }
}
