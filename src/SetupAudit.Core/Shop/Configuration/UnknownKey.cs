namespace SetupAudit.Shop.Configuration;

/// <summary>The sentence for a key that is not one, with the key that was probably meant.</summary>
internal static class UnknownKey
{
    public static string Sentence(string name, IEnumerable<string> known)
    {
        IReadOnlyList<string> keys = [.. known];
        return NearestWord.Of(name, keys) is { } near
            ? $"{Wording.Quote(name)} is not a key here; did you mean {near}?"
            : $"{Wording.Quote(name)} is not a key here; use {Wording.Or(keys)}";
    }
}
