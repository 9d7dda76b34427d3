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

    // Letters to put in, take out, change or swap with the next, to make one word of the other (optimal string
    // alignment).
    private static int Changes(string from, string to)
    {
        var changes = new int[from.Length + 1, to.Length + 1];
        for (var at = 0; at <= from.Length; at++) changes[at, 0] = at;
        for (var column = 0; column <= to.Length; column++) changes[0, column] = column;
        for (var at = 1; at <= from.Length; at++)
            for (var column = 1; column <= to.Length; column++)
            {
                var changed = changes[at - 1, column - 1] + (from[at - 1] == to[column - 1] ? 0 : 1);
                var least = Math.Min(changed, Math.Min(changes[at, column - 1], changes[at - 1, column]) + 1);
                if (at > 1 && column > 1 && from[at - 1] == to[column - 2] && from[at - 2] == to[column - 1])
                    least = Math.Min(least, changes[at - 2, column - 2] + 1);
                changes[at, column] = least;
            }
        return changes[from.Length, to.Length];
    }
}
