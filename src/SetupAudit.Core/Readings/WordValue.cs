using System.Globalization;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Finds where a value that is no plain number ends: parameters, expressions, functions (RS274/NGC 3.3.2).
/// </summary>
internal static class WordValue
{
    private const string FourQuarterFunction = "ATAN";

    // The published functions, and the commoner names beside them (common practice, no source).
    private static readonly string[] Functions =
    [
        "ABS", "ACOS", "ASIN", FourQuarterFunction, "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN",
        "BIN", "BCD", "POW",
    ];

    // Flow and print words of parameter programs: common practice, no source. True where a value follows.
    private static readonly (string Name, bool TakesValue)[] Keywords =
    [
        ("IF", true), ("THEN", false), ("GOTO", true), ("WHILE", true), ("DO", true), ("END", true),
        ("POPEN", false), ("PCLOS", false),
    ];

    // A print has one letter before this, and the text in brackets behind.
    private const string PrintEnding = "PRNT";

    /// <summary>Whether one of the known words of two and more letters stands here, and its length.</summary>
    public static bool TryKeyword(ReadOnlySpan<byte> text, int position, out int letters)
    {
        letters = LettersAt(text, position);
        var word = text.Slice(position, letters);
        foreach (var (name, _) in Keywords)
            if (IsName(word, name)) return true;
        return IsPrint(word);
    }

    /// <summary>Whether the word prints: what stands behind it is text, no value.</summary>
    public static bool IsPrint(ReadOnlySpan<byte> word) =>
        word.Length == PrintEnding.Length + 1 && IsName(word[1..], PrintEnding);

    public static bool KeywordTakesValue(ReadOnlySpan<byte> word)
    {
        foreach (var (name, takesValue) in Keywords)
            if (IsName(word, name)) return takesValue;
        return IsPrint(word);
    }

    /// <summary>
    /// Moves behind one value: a number, #n, ##n, [expression], a function, any of them signed. On failure the position
    /// is where it went wrong, and the reason is null where simply no value stands there.
    /// </summary>
    public static bool TrySkip(ReadOnlySpan<byte> text, ref int position, out string? reason)
    {
        reason = null;
        SkipBlanks(text, ref position);
        if (position < text.Length && text[position] is (byte)'-' or (byte)'+') position++;
        SkipBlanks(text, ref position);
        while (position < text.Length && text[position] == '#')
        {
            position++;
            SkipBlanks(text, ref position);
        }
        if (position >= text.Length) return false;
        if (text[position] == '[') return TrySkipBrackets(text, ref position, out reason);
        if (text[position] == '<') return TrySkipName(text, ref position, out reason);
        if (IsLetter(text[position])) return TrySkipFunction(text, ref position, out reason);
        if (text[position] is (byte)'-' or (byte)'+') return false;
        var found = NumberText.Scan(text, ref position, out _);
        if (found == NumberScan.TooLong) reason = $"a number of more than {NumberText.DigitsMost} digits stands here";
        return found == NumberScan.Number;
    }

    /// <summary>Moves behind values joined by + - * / without brackets around them.</summary>
    public static bool TrySkipSum(ReadOnlySpan<byte> text, ref int position, out string? reason)
    {
        while (true)
        {
            if (!TrySkip(text, ref position, out reason)) return false;
            var next = position;
            SkipBlanks(text, ref next);
            if (next >= text.Length || !"+-*/"u8.Contains(text[next])) return true;
            position = next + 1;
        }
    }

    /// <summary>A piece of the text for a sentence: the character, or what it is where it cannot be shown.</summary>
    public static string Shown(ReadOnlySpan<byte> text, int position) =>
        position >= text.Length ? "the end of the file"
        : text[position] is (byte)'\r' or (byte)'\n' ? "the end of the line"
        : text[position] is > 32 and < 127 ? $"\"{(char)text[position]}\""
        : string.Create(CultureInfo.InvariantCulture, $"a byte of value {text[position]}");

    private static bool TrySkipFunction(ReadOnlySpan<byte> text, ref int position, out string? reason)
    {
        reason = null;
        var letters = LettersAt(text, position);
        var word = text.Slice(position, letters);
        var known = false;
        foreach (var name in Functions) known |= IsName(word, name);
        if (!known) return false;
        position += letters;
        SkipBlanks(text, ref position);
        if (!TrySkipBrackets(text, ref position, out reason)) return false;
        if (!IsName(word, FourQuarterFunction)) return true;
        var next = position;
        SkipBlanks(text, ref next);
        if (next >= text.Length || text[next] != '/') return true;
        next++;
        SkipBlanks(text, ref next);
        position = next;
        return TrySkipBrackets(text, ref position, out reason);
    }

    private static bool TrySkipBrackets(ReadOnlySpan<byte> text, ref int position, out string? reason)
    {
        reason = null;
        if (position >= text.Length || text[position] != '[')
        {
            reason = $"{Shown(text, position)} stands where [ was expected";
            return false;
        }
        var opened = position;
        var depth = 0;
        for (; position < text.Length && text[position] is not ((byte)'\r' or (byte)'\n'); position++)
        {
            if (text[position] == '[') depth++;
            if (text[position] == ']') depth--;
            if (depth > 0) continue;
            position++;
            return true;
        }
        position = opened;
        reason = "a bracket opens here and is not closed on its line";
        return false;
    }

    private static bool TrySkipName(ReadOnlySpan<byte> text, ref int position, out string? reason)
    {
        reason = null;
        var length = text[position..].IndexOfAny((byte)'>', (byte)'\r', (byte)'\n');
        if (length < 0 || text[position + length] != '>')
        {
            reason = "a name opens with < here and is not closed on its line";
            return false;
        }
        position += length + 1;
        return true;
    }

    private static bool IsName(ReadOnlySpan<byte> word, string name)
    {
        if (word.Length != name.Length) return false;
        for (var at = 0; at < name.Length; at++)
            if ((word[at] & 0xDF) != name[at]) return false;
        return true;
    }

    private static int LettersAt(ReadOnlySpan<byte> text, int position)
    {
        const int longest = 8;
        var end = position;
        while (end < text.Length && end - position < longest && IsLetter(text[end])) end++;
        return end - position;
    }

    private static bool IsLetter(byte letter) => (letter & 0xDF) is >= 'A' and <= 'Z';

    private static void SkipBlanks(ReadOnlySpan<byte> text, ref int position)
    {
        while (position < text.Length && text[position] is (byte)' ' or (byte)'\t') position++;
    }
}
