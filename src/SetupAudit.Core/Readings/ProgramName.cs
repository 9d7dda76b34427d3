namespace SetupAudit.Readings;

/// <summary>
/// The one way a program's name is written, whoever says it: a file, a program, a print-out or a sheet.
/// </summary>
public static class ProgramName
{
    private const string Blanks = " \t\r\n\0";

    /// <summary>
    /// "O0041", "o41", ":41" and "0041" are all "O41" (contract section 2: leading zeros dropped); a name that is no
    /// O number is kept as it is written, trimmed. <paramref name="dropEnding"/> takes a file's ending off first.
    /// Does not throw; a name without any character but blanks gives "".
    /// </summary>
    public static string Normalise(string name, bool dropEnding = false)
    {
        var trimmed = name.AsSpan().Trim(Blanks);
        if (dropEnding) trimmed = WithoutEnding(trimmed).Trim(Blanks);
        var number = trimmed is ['O' or 'o' or ':', ..] ? trimmed[1..].Trim(Blanks) : trimmed;
        if (number.IsEmpty || number.ContainsAnyExceptInRange('0', '9')) return trimmed.ToString();
        var digits = number.TrimStart('0');
        return digits.IsEmpty ? "O0" : string.Concat("O", digits);
    }

    /// <summary>The name of a program that says none itself: its file's, without folders and ending.</summary>
    public static string OfFile(string file) =>
        Normalise(file[(file.AsSpan().LastIndexOfAny('/', '\\') + 1)..], dropEnding: true);

    // A name that is nothing but an ending (".nc") is kept: dropping it would leave no name at all.
    private static ReadOnlySpan<char> WithoutEnding(ReadOnlySpan<char> name)
    {
        var point = name.LastIndexOf('.');
        return point > 0 ? name[..point] : name;
    }
}
