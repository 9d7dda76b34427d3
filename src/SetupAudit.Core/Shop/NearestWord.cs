namespace SetupAudit.Shop;

/// <summary>Guesses which of the known words a person meant who wrote an unknown one.</summary>
public static class NearestWord
{
    private const int NearMost = 40;

    /// <summary>The word with the fewest letters to change, case aside; null where none is near.</summary>
    public static string? Of(string found, IEnumerable<string> words)
    {
        if (found.Length is 0 or > NearMost) return null;
        string? nearest = null;
        // Of one or two letters any other word would be near; only their case may be wrong.
        var fewest = found.Length <= 2 ? 1 : Math.Max(1, found.Length / 3) + 1;
        foreach (var word in words)
        {
            if (word.Length > NearMost) continue;
            var changes = Changes(found.ToUpperInvariant(), word.ToUpperInvariant());
            if (changes >= fewest) continue;
            (nearest, fewest) = (word, changes);
        }
        return nearest;
    }

    // Letters to put in, take out or change to make one word of the other (Levenshtein's distance), row by row.
    private static int Changes(string from, string to)
    {
        Span<int> row = stackalloc int[NearMost + 1];
        for (var column = 0; column <= to.Length; column++) row[column] = column;
        for (var at = 1; at <= from.Length; at++)
        {
            var diagonal = row[0];
            row[0] = at;
            for (var column = 1; column <= to.Length; column++)
            {
                var changed = diagonal + (from[at - 1] == to[column - 1] ? 0 : 1);
                diagonal = row[column];
                row[column] = Math.Min(changed, Math.Min(row[column - 1], diagonal) + 1);
            }
        }
        return row[to.Length];
    }
}
