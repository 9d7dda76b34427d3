namespace SetupAudit.Shares;

/// <summary>
/// A glob over the names below a watched folder: <c>*</c> and <c>?</c> within a name, <c>[a-z]</c>, <c>{a,b}</c>, and
/// <c>**</c> for any number of folders. Without a slash it means the folder itself. Case does not count, as on the
/// shares that controls write to. Matching takes no memory and at most pattern times name steps for each name.
/// </summary>
internal sealed class FileGlob
{
    private const int MostAlternatives = 64;
    private readonly string[][] _patterns;

    public FileGlob(string pattern)
    {
        _patterns = [.. Expand(pattern.Replace('\\', '/'))
            .Take(MostAlternatives)
            .Select(one => one.Split('/', StringSplitOptions.RemoveEmptyEntries))
            .Where(one => one.Length > 0)];
    }

    /// <summary>Whether a file of this name below the folder (forward slashes) is watched.</summary>
    public bool Matches(ReadOnlySpan<char> name)
    {
        foreach (var pattern in _patterns)
        {
            if (MatchesFrom(pattern, name)) return true;
        }

        return false;
    }

    /// <summary>Whether anything in a folder of this name could be watched.</summary>
    public bool MayHoldMatches(ReadOnlySpan<char> folder)
    {
        foreach (var pattern in _patterns)
        {
            if (MayLieBelow(pattern, folder)) return true;
        }

        return false;
    }

    /// <summary>Whether a folder of this name looks like a watched file. Not where the glob takes any name.</summary>
    public bool LooksLikeFile(ReadOnlySpan<char> folder)
    {
        foreach (var pattern in _patterns)
        {
            if (pattern[^1].AsSpan().ContainsAnyExcept('*', '?') && MatchesFrom(pattern, folder)) return true;
        }

        return false;
    }

    private static bool MatchesFrom(ReadOnlySpan<string> pattern, ReadOnlySpan<char> name)
    {
        while (pattern.Length > 0)
        {
            if (pattern[0] == "**") return MatchesBelow(pattern[1..], name);
            var slash = name.IndexOf('/');
            var part = slash < 0 ? name : name[..slash];
            if (part.IsEmpty || !MatchesName(pattern[0], part)) return false;
            name = slash < 0 ? [] : name[(slash + 1)..];
            pattern = pattern[1..];
        }

        return name.IsEmpty;
    }

    // Folders are at most FolderListing.MostFolders deep, so trying each depth stays small.
    private static bool MatchesBelow(ReadOnlySpan<string> pattern, ReadOnlySpan<char> name)
    {
        if (pattern.Length == 0) return !name.IsEmpty;
        while (true)
        {
            if (MatchesFrom(pattern, name)) return true;
            var slash = name.IndexOf('/');
            if (slash < 0) return false;
            name = name[(slash + 1)..];
        }
    }

    private static bool MayLieBelow(ReadOnlySpan<string> pattern, ReadOnlySpan<char> folder)
    {
        while (!folder.IsEmpty)
        {
            if (pattern.Length < 2 && !(pattern.Length == 1 && pattern[0] == "**")) return false;
            if (pattern[0] == "**") return true;
            var slash = folder.IndexOf('/');
            if (!MatchesName(pattern[0], slash < 0 ? folder : folder[..slash])) return false;
            folder = slash < 0 ? [] : folder[(slash + 1)..];
            pattern = pattern[1..];
        }

        return pattern.Length > 0;
    }

    /// <summary>The two-finger match: on a miss, the last star takes one character more.</summary>
    private static bool MatchesName(ReadOnlySpan<char> pattern, ReadOnlySpan<char> name)
    {
        int p = 0, n = 0, star = -1, from = 0;
        while (n < name.Length)
        {
            if (p < pattern.Length && pattern[p] == '*')
            {
                star = p++;
                from = n;
            }
            else if (p < pattern.Length && MatchesOne(pattern, p, name[n], out var next))
            {
                p = next;
                n++;
            }
            else if (star >= 0)
            {
                p = star + 1;
                n = ++from;
            }
            else
            {
                return false;
            }
        }

        return pattern[p..].TrimStart('*').IsEmpty;
    }

    private static bool MatchesOne(ReadOnlySpan<char> pattern, int at, char letter, out int next)
    {
        next = at + 1;
        if (pattern[at] == '?') return true;
        var close = pattern[at] == '[' ? pattern[(at + 1)..].IndexOf(']') : -1;
        if (close <= 0) return char.ToUpperInvariant(pattern[at]) == char.ToUpperInvariant(letter);
        next = at + close + 2;
        var set = pattern.Slice(at + 1, close);
        var negated = set[0] is '!' or '^' && set.Length > 1;
        return InSet(negated ? set[1..] : set, char.ToUpperInvariant(letter)) != negated;
    }

    private static bool InSet(ReadOnlySpan<char> set, char letter)
    {
        for (var i = 0; i < set.Length; i++)
        {
            var first = char.ToUpperInvariant(set[i]);
            var isRange = i + 2 < set.Length && set[i + 1] == '-';
            var last = isRange ? char.ToUpperInvariant(set[i + 2]) : first;
            if (letter >= first && letter <= last) return true;
            if (isRange) i += 2;
        }

        return false;
    }

    private static IEnumerable<string> Expand(string pattern)
    {
        var open = pattern.IndexOf('{', StringComparison.Ordinal);
        var close = open < 0 ? -1 : pattern.IndexOf('}', open);
        return close < 0
            ? [pattern]
            : pattern[(open + 1)..close].Split(',')
                .SelectMany(one => Expand(pattern[..open] + one + pattern[(close + 1)..]));
    }
}
