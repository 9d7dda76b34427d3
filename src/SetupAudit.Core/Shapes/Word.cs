using System.Globalization;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>
/// The words that JSON and people are shown for a choice of one: stop, measured, finished, unreadable.
/// </summary>
public static class Word
{
    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'";

    /// <summary>The word of a choice, in small letters.</summary>
    public static string Of<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    /// <summary>The choice that a word names; throws where there is none, for only we wrote it.</summary>
    public static T Parse<T>(string word)
        where T : struct, Enum => Enum.Parse<T>(word, ignoreCase: true);

    /// <summary>A moment in UTC with Z, its fraction only where it has one.</summary>
    public static string Of(DateTimeOffset moment) =>
        moment.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture);

    public static DateTimeOffset ParseTime(string text) => DateTimeOffset.ParseExact(
        text, TimeFormat, CultureInfo.InvariantCulture,
        DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    public static Unit ParseUnit(string name) => name switch
    {
        "mm" => Unit.Millimetre,
        "inch" => Unit.Inch,
        "deg" => Unit.Degree,
        _ => throw new FormatException($"no unit is called {name}"),
    };
}
