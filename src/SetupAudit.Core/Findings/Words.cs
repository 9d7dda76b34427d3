using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>The words that findings share: numbers with their units, offsets by their names, lists.</summary>
internal static class Words
{
    private const int GivenMost = 60;

    /// <summary>The digits as they were written.</summary>
    public static string Number(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    public static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    public static string With(decimal value, Unit unit) => $"{Number(value)} {Length.ShortName(unit)}";

    /// <summary>"Z of G54", "rotation of G54", "length wear of tool 3".</summary>
    public static string Name(OffsetKey key) => key.IsTool
        ? $"{Part(key.Part)} of tool {Number(key.Tool)}"
        : $"{Axis(key.Axis)} of {key.Register}";

    /// <summary>The same with a capital, to begin a sentence.</summary>
    public static string Begin(string text) =>
        text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    public static string Part(ToolPart part) => ToolPartName.Of(part).Replace('-', ' ');

    public static string Axis(Axis axis) => axis == Datums.Axis.R ? "rotation" : axis.ToString();

    /// <summary>"X", "X and Y", "X, Y and Z".</summary>
    public static string List(IEnumerable<string> items)
    {
        var all = items.Distinct().ToList();
        return all.Count < 2
            ? string.Concat(all)
            : $"{string.Join(", ", all.Take(all.Count - 1))} and {all[^1]}";
    }

    /// <summary>"1 cycle", "3 cycles".</summary>
    public static string Count(int count, string singular) => $"{Number(count)} {singular}{(count == 1 ? "" : "s")}";

    /// <summary>A name that a print-out gave, short enough for a sentence and fit to be read.</summary>
    public static string Given(string name) =>
        string.Concat(name.Where(letter => !char.IsControl(letter)).Take(GivenMost));

    /// <summary>The same as the end of an id, which has no blanks, slashes or signs of its own.</summary>
    public static string InId(string name) => string.Concat(
        Given(name).Select(letter => char.IsWhiteSpace(letter) || letter is '/' or '#' or '\\' ? '-' : letter));

    /// <summary>"24.98 to 25.02 mm".</summary>
    public static string Range(Bounds range, Unit unit) => $"{Number(range.Low)} to {With(range.High, unit)}";

    /// <summary>"12 h", "1 h 30 min", "45 min".</summary>
    public static string Span(TimeSpan span)
    {
        var hours = (int)span.TotalHours;
        if (span < TimeSpan.FromMinutes(1)) return $"{Number((int)span.TotalSeconds)} s";
        if (hours == 0) return $"{Number(span.Minutes)} min";
        return span.Minutes == 0 ? $"{Number(hours)} h" : $"{Number(hours)} h {Number(span.Minutes)} min";
    }

    /// <summary>Where a value lies against another: above or below in Z and for tools, further in plus or minus
    /// elsewhere.</summary>
    public static string Beyond(OffsetKey key, decimal distance) =>
        (key.IsTool || key.Axis == Datums.Axis.Z, distance > 0) switch
        {
            (true, true) => "above",
            (true, false) => "below",
            (false, true) => "further in plus than",
            _ => "further in minus than",
        };
}
