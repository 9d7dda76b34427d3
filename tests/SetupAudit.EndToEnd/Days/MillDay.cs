using System.Globalization;
using System.Text;
using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit.Days;

/// <summary>
/// Days at one made-up mill, told as a test reads them: what the control dumped and what it printed, at times of March
/// 2026
/// ("02 07:00" is 2 March). Each dump is a file of its own; the print-out grows through the days.
/// </summary>
internal sealed class MillDay : IDisposable
{
    private const string Config = """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Etc/UTC" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": {
              "Kind": "mill", "Units": "mm", "Resolution": 0.001, "ProbeTool": 24, EXTRA
              "Watch": [
                { "Folder": "shares/mill-3/offsets", "Files": "*.nc", "Read": "data-setting" LAG },
                PRINTS
                { "Folder": "shares/mill-3/waiting", "Files": "*.nc", "Read": "data-setting", "Is": "to-load" },
                { "Folder": "shares/mill-3/programs", "Files": "*.nc", "Read": "program" }
              ]
            }
          },
          "PrintOuts": {
            "shop-prints": {
              "Time": "yyyy-MM-dd HH:mm:ss",
              "Lines": [
                { "Match": "^(?<time>.{19}) CYCLE START (?<program>O\\d+)", "Means": "cycle-start" },
                { "Match": "^(?<time>.{19}) CYCLE END", "Means": "cycle-end" },
                { "Match": "^(?<time>.{19}) CYCLE STOP", "Means": "cycle-stop" },
                { "Match": "^(?<time>.{19}) SET (?<register>G\\S+) (?<axis>[XYZ]) (?<value>\\S+)",
                    "Means": "datum-set" },
                { "Match": "^(?<time>.{19}) TOOL (?<tool>\\d+) (?<value>\\S+)", "Means": "tool-set" },
                { "Match": "^(?<time>.{19}) SIZE (?<feature>\\S+) (?<size>\\S+)", "Means": "measured" },
                { "Match": "^(?<time>.{19}) PALLET (?<pallet>\\S+)", "Means": "pallet-change" },
                { "Match": "^(?<time>.{19}) ALARM (?<code>\\d+)", "Means": "alarm" }
              ]
            }
          }
        }
        """;

    private const string Prints =
        """{ "Folder": "shares/mill-3/prints", "Files": "*.log", "Read": "print-out", "Lines": "shop-prints" },""";

    private readonly StringBuilder _print = new();
    private readonly int _shareAheadMinutes;
    private int _dumps;

    public MillDay(bool prints = true, string lag = "", string extra = "", int shareAheadMinutes = 0)
    {
        _shareAheadMinutes = shareAheadMinutes;
        Shop = Workshop.With(Config.Replace("PRINTS", prints ? Prints : "", StringComparison.Ordinal)
            .Replace("LAG", lag.Length == 0 ? "" : $", \"Lag\": \"{lag}\"", StringComparison.Ordinal)
            .Replace("EXTRA", extra, StringComparison.Ordinal));
    }

    public Workshop Shop { get; }

    /// <summary>A dump of blocks separated by semicolons: "L2 P1 X-410. Y-205. Z-310.; L10 P3 R120.".</summary>
    public MillDay Dump(string time, string blocks)
    {
        var lines = blocks.Split(';').Select(block => $"G10 {block.Trim()}\n");
        Shop.Write($"shares/mill-3/offsets/d{++_dumps:0000}.nc", Iso(time, _shareAheadMinutes),
            $"%\nG21 G90\n{string.Concat(lines)}M30\n%\n");
        return this;
    }

    public MillDay Waiting(string time, string blocks)
    {
        var lines = blocks.Split(';').Select(block => $"G10 {block.Trim()}\n");
        Shop.Write("shares/mill-3/waiting/old.nc", Iso(time, 0), $"%\nG21 G90\n{string.Concat(lines)}M30\n%\n");
        return this;
    }

    public MillDay Print(string time, string line)
    {
        _print.Append(CultureInfo.InvariantCulture, $"{At(time):yyyy-MM-dd HH:mm:ss} {line}\n");
        Shop.Write("shares/mill-3/prints/all.log", Iso(time, _shareAheadMinutes), _print.ToString());
        return this;
    }

    /// <summary>Probing routines that set axes and print each: "G54 X -410.".</summary>
    public MillDay Set(string time, string register, params string[] axes)
    {
        foreach (var axis in axes) Print(time, $"SET {register} {axis}");
        return this;
    }

    public MillDay Cycle(string start, string end, string program) =>
        Print(start, $"CYCLE START {program}").Print(end, "CYCLE END");

    public MillDay Program(string time, string name, string text)
    {
        Shop.Write($"shares/mill-3/programs/{name}.nc", Iso(time, 0), text);
        return this;
    }

    /// <summary>A program that cuts in X, Y and Z in one register with T3.</summary>
    public static string Cutting(string program, string register, string title = "PART") =>
        $"%\n{program} ({title})\nG21 G90\nT3 M6\nG0 {register} X0. Y0. S3000 M3\nG43 H3 Z50.\nG1 Z-2. F200.\nG1 X50. Y20.\nG0 Z50.\nM30\n%\n";

    public MillDay Once()
    {
        Shop.Once();
        return this;
    }

    /// <summary>Findings as "rule severity what", the notes left out unless asked for.</summary>
    public IReadOnlyList<string> Findings(bool notes = false) =>
    [
        .. Shop.List("findings").Where(finding => notes || finding.Text("severity") != "note")
            .Select(finding => $"{finding.Text("rule")} {finding.Text("severity")} {What(finding)}".Trim())
            .Order(StringComparer.Ordinal),
    ];

    public IReadOnlyList<JsonElement> Setups() => Shop.List("setups");

    public void Dispose() => Shop.Dispose();

    private static string What(JsonElement finding) => finding.Text("register") is { } register
        ? $"{register}.{finding.Text("axis")}".TrimEnd('.')
        : finding.Text("tool") is { } tool ? $"T{tool}.{finding.Text("of")}" : "";

    private static DateTime At(string time) =>
        DateTime.ParseExact($"2026-03-{time}", "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    private static string Iso(string time, int aheadMinutes) =>
        At(time).AddMinutes(aheadMinutes).ToString("yyyy-MM-ddTHH:mm:00Z", CultureInfo.InvariantCulture);
}
