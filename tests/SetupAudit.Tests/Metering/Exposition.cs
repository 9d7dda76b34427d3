using System.Globalization;
using System.Text.RegularExpressions;

namespace SetupAudit.Metering;

/// <summary>
/// A strict reader of the text exposition format 0.0.4, written after its published description
/// (prometheus.io/docs/instrumenting/exposition_formats, "Text-based format"); from memory, the page is not at hand.
/// </summary>
internal static partial class Exposition
{
    /// <summary>Every sample by its name and labels; throws at the first line that is none of the format.</summary>
    public static IReadOnlyDictionary<string, double> Read(string page)
    {
        if (page.Length > 0 && page[^1] != '\n') throw new FormatException("the last line does not end");
        if (page.Contains('\r')) throw new FormatException("lines end in LF alone");
        var types = new Dictionary<string, string>();
        var helped = new HashSet<string>();
        var samples = new Dictionary<string, double>();
        string? family = null;
        foreach (var line in page.Split('\n')[..^1])
        {
            if (Help.Match(line) is { Success: true } help)
            {
                if (!helped.Add(family = help.Groups["name"].Value)) throw new FormatException($"two HELP lines: {line}");
            }
            else if (Type.Match(line) is { Success: true } type)
            {
                if (type.Groups["name"].Value != family) throw new FormatException($"TYPE without its HELP: {line}");
                if (!types.TryAdd(family, type.Groups["type"].Value)) throw new FormatException($"two TYPE lines: {line}");
            }
            else if (Sample.Match(line) is { Success: true } sample)
            {
                if (family is null || !BelongsTo(sample.Groups["name"].Value, family, types[family]))
                    throw new FormatException($"a sample outside its family: {line}");
                var key = sample.Groups["name"].Value + sample.Groups["labels"].Value;
                if (!samples.TryAdd(key, Number(sample.Groups["value"].Value))) throw new FormatException($"twice: {line}");
            }
            else
            {
                throw new FormatException($"no line of the format: {line}");
            }
        }
        return samples;
    }

    private static bool BelongsTo(string name, string family, string type) => type == "histogram"
        ? name == family + "_bucket" || name == family + "_sum" || name == family + "_count"
        : name == family;

    private static double Number(string text) => text switch
    {
        "+Inf" => double.PositiveInfinity,
        "-Inf" => double.NegativeInfinity,
        "NaN" => double.NaN,
        _ => double.Parse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent,
            CultureInfo.InvariantCulture),
    };

    [GeneratedRegex(@"\A# HELP (?<name>[a-zA-Z_:][a-zA-Z0-9_:]*) (?:[^\\\n]|\\\\|\\n)+\z")]
    private static partial Regex Help { get; }

    [GeneratedRegex(@"\A# TYPE (?<name>[a-zA-Z_:][a-zA-Z0-9_:]*) (?<type>counter|gauge|histogram|summary|untyped)\z")]
    private static partial Regex Type { get; }

    [GeneratedRegex(@"\A(?<name>[a-zA-Z_:][a-zA-Z0-9_:]*)"
        + @"(?<labels>\{(?:[a-zA-Z_][a-zA-Z0-9_]*=""(?:[^\\""\n]|\\\\|\\""|\\n)*""(?:,(?=[a-zA-Z_]))?)*\})? (?<value>\S+)\z")]
    private static partial Regex Sample { get; }
}
