using System.Text;

namespace SetupAudit.Shop;

/// <summary>
/// Matches names against patterns: <c>*</c> any run of characters and <c>?</c> any one, neither a slash; <c>**</c> as a
/// whole part between slashes any run of parts. Takes at most pattern x text steps whatever they hold.
/// </summary>
public static class Glob
{
    private const int LongestComposed = 1024;

    /// <summary>
    /// Whether the whole text matches. Names of files are compared with <paramref name="ignoreCase"/>: then it does
    /// not matter either whether an accent is one character with its letter or one of its own.
    /// </summary>
    public static bool Matches(string pattern, string text, bool ignoreCase = false)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        ArgumentNullException.ThrowIfNull(text);
        return Matches(pattern.AsSpan(), text, ignoreCase);
    }

    /// <summary>The same for a name that is not worth a string: a listing shows thousands at every poll.</summary>
    public static bool Matches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> text, bool ignoreCase)
    {
        if (!ignoreCase || (Ascii.IsValid(pattern) && Ascii.IsValid(text)))
            return PathMatches(pattern, text, ignoreCase);
        Span<char> patternRoom = stackalloc char[LongestComposed];
        Span<char> textRoom = stackalloc char[LongestComposed];
        return PathMatches(Composed(pattern, patternRoom), Composed(text, textRoom), ignoreCase);
    }

    // What has no composed form, or is too long for a name, is compared as it is.
    private static ReadOnlySpan<char> Composed(ReadOnlySpan<char> text, Span<char> room) =>
        !Ascii.IsValid(text) && text.Length <= room.Length / 2 && !HasLoneSurrogate(text)
            && text.TryNormalize(room, out var length)
            ? room[..length]
            : text;

    private static bool HasLoneSurrogate(ReadOnlySpan<char> text)
    {
        for (var rest = text; !rest.IsEmpty;)
        {
            if (Rune.DecodeFromUtf16(rest, out _, out var taken) != System.Buffers.OperationStatus.Done) return true;
            rest = rest[taken..];
        }
        return false;
    }

    // Only the last ** met needs to be remembered: giving it one part more covers all that an earlier one could give.
    private static bool PathMatches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> text, bool ignoreCase)
    {
        int p = 0, t = 0, afterStars = -1, tried = 0;
        while (t <= text.Length)
        {
            if (p <= pattern.Length)
            {
                var part = PartAt(pattern, p);
                if (part is "**")
                {
                    (p, afterStars, tried) = (p + 3, p + 3, t);
                    continue;
                }
                var name = PartAt(text, t);
                if (PartMatches(part, name, ignoreCase))
                {
                    (p, t) = (p + part.Length + 1, t + name.Length + 1);
                    continue;
                }
            }
            if (afterStars < 0) return false;
            tried += PartAt(text, tried).Length + 1;
            (p, t) = (afterStars, tried);
        }
        return OnlyStarsFrom(pattern, p);
    }

    private static bool OnlyStarsFrom(ReadOnlySpan<char> pattern, int from)
    {
        while (from <= pattern.Length && PartAt(pattern, from) is "**") from += 3;
        return from > pattern.Length;
    }

    private static ReadOnlySpan<char> PartAt(ReadOnlySpan<char> path, int start)
    {
        var rest = path[start..];
        var slash = rest.IndexOf('/');
        return slash < 0 ? rest : rest[..slash];
    }

    private static bool PartMatches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> text, bool ignoreCase)
    {
        int p = 0, t = 0, afterStar = -1, tried = 0;
        while (t < text.Length)
        {
            if (p < pattern.Length && pattern[p] == '*')
            {
                (p, afterStar, tried) = (p + 1, p + 1, t);
                continue;
            }
            if (p < pattern.Length && (pattern[p] == '?' || Same(pattern[p], text[t], ignoreCase)))
            {
                (p, t) = (p + 1, t + 1);
                continue;
            }
            if (afterStar < 0) return false;
            tried++;
            (p, t) = (afterStar, tried);
        }
        return pattern[p..].IndexOfAnyExcept('*') < 0;
    }

    private static bool Same(char left, char right, bool ignoreCase) =>
        left == right || (ignoreCase && char.ToUpperInvariant(left) == char.ToUpperInvariant(right));
}
