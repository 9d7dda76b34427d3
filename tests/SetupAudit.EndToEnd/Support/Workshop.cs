using System.Text.Json;

namespace SetupAudit.Support;

/// <summary>
/// A shop in a temporary folder: a configuration, shares with files of chosen times, and the built program run on it.
/// <code>
/// using var shop = Workshop.With(Workshop.OneMill)
///     .Write("shares/mill-3/offsets/dump.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 Y-205. Z-300.");
/// shop.Once();
/// var changes = shop.List("changes", "--machine", "mill-3");
/// </code>
/// </summary>
public sealed class Workshop : IDisposable
{
    /// <summary>One mill in mm that dumps offsets, keeps programs and prints cycles and touches; nothing else set.</summary>
    public const string OneMill = """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": {
              "Kind": "mill", "Units": "mm", "Resolution": 0.001, "WithoutPoint": "increments",
              "Travel": { "X": [-800, 0], "Y": [-450, 0], "Z": [-520, 0] },
              "StylusDiameter": 6.0, "ProbeTool": 24,
              "Watch": [
                { "Folder": "shares/mill-3/offsets", "Files": "*.nc", "Read": "data-setting" },
                { "Folder": "shares/mill-3/prints", "Files": "*.log", "Read": "print-out", "Lines": "shop-prints" },
                { "Folder": "shares/mill-3/programs", "Files": "*.nc", "Read": "program" }
              ]
            }
          },
          "PrintOuts": {
            "shop-prints": {
              "Time": "yyyy-MM-dd HH:mm:ss",
              "Lines": [
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) CYCLE START (?<program>O\\d+)", "Means": "cycle-start" },
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) CYCLE END (?<program>O\\d+)", "Means": "cycle-end" },
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)", "Means": "measured" },
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) SET (?<register>G5\\d) (?<axis>[XYZ]) (?<value>\\S+)", "Means": "datum-set" },
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) ALARM (?<code>\\d+) (?<text>.*)", "Means": "alarm", "Kind": "surface-not-found" }
              ]
            }
          }
        }
        """;

    private readonly TempShare _files = new();

    private Workshop(string config)
    {
        ConfigPath = _files.Write("shop.json", config);
        // A watched folder that is missing is a fault of its own, which most tests do not mean.
        using var parsed = JsonDocument.Parse(config, new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        foreach (var folder in WatchedFolders(parsed.RootElement)) Directory.CreateDirectory(_files[folder]);
    }

    public static Workshop With(string config) => new(config);

    public string Folder => _files.Folder;

    public string ConfigPath { get; }

    /// <summary>The full path of a name below the shop's folder.</summary>
    public string this[string name] => _files[name];

    /// <summary>Writes a file whose time on the share is that moment (ISO 8601).</summary>
    public Workshop Write(string name, string modified, string text)
    {
        _files.Write(name, text, modified);
        return this;
    }

    public Workshop Write(string name, string modified, ReadOnlySpan<byte> bytes)
    {
        _files.Write(name, bytes, modified);
        return this;
    }

    /// <summary>Appends to a print-out, which then has that time.</summary>
    public Workshop Append(string name, string modified, string text)
    {
        _files.Append(name, text, modified);
        return this;
    }

    /// <summary>Writes the configuration anew.</summary>
    public Workshop Configure(string config)
    {
        _files.Write("shop.json", config);
        return this;
    }

    public Workshop Delete(string name)
    {
        _files.Delete(name);
        return this;
    }

    /// <summary>Runs a command with this shop's configuration.</summary>
    public Ran Run(params IReadOnlyList<string> arguments) =>
        BuiltProgram.Run(Folder, [.. arguments, "--config", ConfigPath]);

    /// <summary>Starts a command that goes on, such as `run`, with this shop's configuration.</summary>
    public RunningProgram Start(params IReadOnlyList<string> arguments) =>
        BuiltProgram.Start(Folder, [.. arguments, "--config", ConfigPath]);

    /// <summary>Takes in all that lies on the shares; 1 where the test expects an arrival that cannot be read.</summary>
    public Ran Once(int exits = 0) => Run("once").Exits(exits);

    /// <summary>The rows of `list WHAT --json`, with further options such as "--machine", "mill-3".</summary>
    public IReadOnlyList<JsonElement> List(string what, params IReadOnlyList<string> options) =>
        [.. Run(["list", what, .. options, "--json"]).Exits(0).Json.EnumerateArray()];

    /// <summary>The document of `state --json` at a moment.</summary>
    public JsonElement State(string machine, string at) =>
        Run("state", "--machine", machine, "--at", at, "--json").Exits(0).Json;

    /// <summary>The names of the rules that found something, a name as often as it did, in ordinal order.</summary>
    public IReadOnlyList<string?> Rules() =>
        [.. List("findings").Select(finding => finding.Text("rule")).Order(StringComparer.Ordinal)];

    public void Dispose() => _files.Dispose();

    private static IEnumerable<string> WatchedFolders(JsonElement config)
    {
        if (config.Find("Sheets", "Folder") is { ValueKind: JsonValueKind.String } sheets) yield return sheets.ToString();
        if (config.Find("Machines") is not { ValueKind: JsonValueKind.Object } machines) yield break;
        foreach (var machine in machines.EnumerateObject())
            if (machine.Value.Find("Watch") is { ValueKind: JsonValueKind.Array } watches)
                foreach (var watch in watches.EnumerateArray())
                    if (watch.Find("Folder") is { ValueKind: JsonValueKind.String } folder) yield return folder.ToString();
    }
}
