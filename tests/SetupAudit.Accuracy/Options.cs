using System.Globalization;
using SetupAudit.Units;

namespace SetupAudit.Accuracy;

/// <summary>What the command line asks for.</summary>
internal sealed record Options(IReadOnlyList<int> Seeds, ShopChoice Choice, string? CaseFile)
{
    public const string Usage = "use: --seeds 1..40 [--unit mm|inch] [--sheets] [--only TRIAL] [--csv FILE]";

    /// <summary>Null where the command line is at fault.</summary>
    public static Options? Parse(IReadOnlyList<string> words)
    {
        var options = new Options([], new ShopChoice(), null);
        for (var at = 0; at < words.Count; at++)
        {
            var value = at + 1 < words.Count ? words[at + 1] : null;
            switch (words[at], value)
            {
                case ("--sheets", _):
                    options = options with { Choice = options.Choice with { AllSheets = true } };
                    continue;
                case ("--unit", "mm" or "inch"):
                    options = options with
                    {
                        Choice = options.Choice with { Unit = value == "mm" ? Unit.Millimetre : Unit.Inch },
                    };
                    break;
                case ("--seeds", { } span) when Span(span) is { } seeds:
                    options = options with { Seeds = seeds };
                    break;
                case ("--only", { } name) when Enum.TryParse<Trial>(name, ignoreCase: true, out var only):
                    options = options with { Choice = options.Choice with { Only = only } };
                    break;
                case ("--csv", { } file):
                    options = options with { CaseFile = file };
                    break;
                default:
                    return null;
            }
            at++;
        }
        return options.Seeds.Count == 0 ? null : options;
    }

    // "7" or "1..40", both ends included.
    private static List<int>? Span(string text)
    {
        var ends = text.Split("..");
        if (ends.Length > 2 || !int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out var low)
            || !int.TryParse(ends[^1], NumberStyles.None, CultureInfo.InvariantCulture, out var high) || high < low)
            return null;
        return [.. Enumerable.Range(low, high - low + 1)];
    }
}
