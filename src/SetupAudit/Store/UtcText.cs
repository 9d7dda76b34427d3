using System.Globalization;

namespace SetupAudit.Store;

/// <summary>
/// The one form a moment has in the database. Its length is fixed, so the order of texts is the order of moments.
/// </summary>
internal static class UtcText
{
    /// <summary>Sorts before every moment.</summary>
    public const string Lowest = "";

    /// <summary>Sorts after every moment.</summary>
    public const string Highest = "~";

    // Seven digits are a tick: whatever a share or a print-out gives comes back as it was.
    private const string Form = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    public static string Of(DateTimeOffset moment) =>
        moment.UtcDateTime.ToString(Form, CultureInfo.InvariantCulture);

    public static string? Of(DateTimeOffset? moment) => moment is { } known ? Of(known) : null;

    public static DateTimeOffset Read(string text) => DateTimeOffset.ParseExact(
        text, Form, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    public static DateTimeOffset? ReadNullable(string? text) => text is null ? null : Read(text);
}
