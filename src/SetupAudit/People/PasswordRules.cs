using System.Globalization;
using System.Reflection;
using System.Text;

namespace SetupAudit.People;

/// <summary>
/// Which passwords are taken (OWASP ASVS 5.0, 6.2): long ones, of any characters, never to be changed by the calendar;
/// not one of those that everybody tries first.
/// </summary>
public static class PasswordRules
{
    public const int ShortestLetters = 12;
    public const int AdvisedLetters = 15;

    /// <summary>ASVS asks for at least 64; nothing is ever cut off.</summary>
    public const int LongestLetters = 256;

    private static readonly Lazy<IReadOnlySet<string>> Common = new(ReadCommon);

    /// <summary>One text for each way of typing the same password (Unicode form C).</summary>
    public static string Normal(string password) => password.Normalize(NormalizationForm.FormC);

    /// <summary>Why a password cannot be taken, as a sentence; null where it can.</summary>
    public static string? Fault(string password, string name)
    {
        if (!PersonName.IsWellFormed(password)) return "The password holds characters that are not Unicode text.";
        var letters = Normal(password).EnumerateRunes().Count();
        if (letters < ShortestLetters)
            return string.Create(CultureInfo.InvariantCulture,
                $"The password has {letters} characters; it needs {ShortestLetters} at least, and " +
                $"{AdvisedLetters} or more are advised. Any characters will do, blanks too: four words do well.");
        if (letters > LongestLetters)
            return string.Create(CultureInfo.InvariantCulture,
                $"The password has {letters} characters; {LongestLetters} are the most.");
        return IsCommon(password, name)
            ? "The password is one of those that are tried first: a common one, the name, or a simple run of keys."
            : null;
    }

    private static bool IsCommon(string password, string name)
    {
        var plain = Normal(password).ToLowerInvariant();
        var bare = string.Concat(plain.Where(char.IsLetterOrDigit));
        return Common.Value.Contains(plain) || Common.Value.Contains(bare) || plain.Distinct().Count() < 4
            || IsRun(bare) || bare.Replace(Bare(name), "", StringComparison.Ordinal).Length < ShortestLetters / 2;
    }

    // abcdefghijkl, 210987654321: each character follows the one before.
    private static bool IsRun(string text) => text.Length > 0
        && new[] { 1, -1 }.Any(step => text.Zip(text.Skip(1)).All(pair =>
            pair.Second - pair.First == step || (pair.First, pair.Second) is ('9', '0') or ('0', '9')));

    private static string Bare(string name)
    {
        var bare = string.Concat(PersonName.Folded(name).Where(char.IsLetterOrDigit));
        return bare.Length == 0 ? " " : bare;
    }

    private static HashSet<string> ReadCommon()
    {
        var assembly = Assembly.GetExecutingAssembly();
        using var stream = assembly.GetManifestResourceStream("SetupAudit.People.common-passwords.txt")
            ?? throw new InvalidOperationException("the list of common passwords is not in the program");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .ToHashSet(StringComparer.Ordinal);
    }
}
