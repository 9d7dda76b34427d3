using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>The words that findings share: numbers with their units, offsets by their names, lists.</summary>
internal static class Words
{
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
}
