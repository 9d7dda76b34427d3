namespace SetupAudit.Store.Outbox;

/// <summary>How the database writes the members of an enumeration: lower case, a dash between words.</summary>
internal static class WordText
{
    public static string Of<T>(T value) where T : struct, Enum => string.Concat(
        value.ToString().Select((letter, at) => at > 0 && char.IsUpper(letter) ? $"-{letter}" : $"{letter}"))
        .ToLowerInvariant();

    public static T Read<T>(string word) where T : struct, Enum =>
        Enum.Parse<T>(word.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);
}
