using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// A pair below fixtures/: a dump and what it must give. `dump.machine.json` beside it says how the machine differs from
/// a mill in mm with the defaults.
/// </summary>
public static class DumpFixture
{
    private static readonly JsonSerializerOptions Plain = new()
    {
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private const string MachineEnding = ".machine.json";

    public static TheoryData<string> Inputs(string reader)
    {
        var names = Directory.GetFiles(Repository.At($"fixtures/{reader}"))
            .Select(Path.GetFileName).OfType<string>().Where(name => !name.EndsWith(".json", StringComparison.Ordinal));
        return [.. names.Order(StringComparer.Ordinal)];
    }

    public static void Check(string reader, SourceKind kind, string name)
    {
        var (machine, watch) = MachineOf(Repository.At($"fixtures/{reader}/{name}{MachineEnding}"), kind);
        Fixtures.Expect(reader, name, Json(DumpReader.Read(Fixtures.Bytes(reader, name), machine, watch)));
    }

    /// <summary>One reading or fault a line, so that a difference shows what moved.</summary>
    public static string Json(DumpResult result) =>
        $$"""
        {
          "status": {{JsonSerializer.Serialize(NameOf(result.Status))}},
          "offsets": [{{Lines(result.Offsets.Select(Json))}}],
          "measured": [{{Lines(result.Measured.Select(Json))}}],
          "faults": [{{Lines(result.Faults.Select(Json))}}]
        }
        """;

    private static string Lines(IEnumerable<string> items)
    {
        var text = string.Join(",\n", items.Select(item => "    " + item));
        return text.Length == 0 ? "" : $"\n{text}\n  ";
    }

    private static string Json(OffsetReading reading) => JsonSerializer.Serialize(new
    {
        line = reading.Line,
        column = reading.Column,
        key = reading.Key.ToString(),
        value = reading.Value,
        how = NameOf(reading.How),
    });

    private static string Json(PrintLine print) => JsonSerializer.Serialize(new
    {
        line = print.Line,
        means = NameOf(print.Means),
        feature = print.Feature,
        size = print.Size,
        angle = print.Angle,
        value = print.Value,
    });

    private static string Json(Fault fault) => JsonSerializer.Serialize(
        new { line = fault.Line, column = fault.Column, reason = fault.Reason }, Plain);

    private static string NameOf<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());

    private static (MachineConfig Machine, WatchConfig Watch) MachineOf(string path, SourceKind kind)
    {
        var watch = Dumps.Watch(kind);
        if (!File.Exists(path)) return (Dumps.Mill, watch);
        using var document = JsonDocument.Parse(File.ReadAllText(path));
        var root = document.RootElement;
        var inch = Is(root, "Units", "inch");
        var machine = Dumps.Mill with
        {
            Kind = Is(root, "Kind", "lathe") ? MachineKind.Lathe : MachineKind.Mill,
            Units = inch ? Unit.Inch : Unit.Millimetre,
            Resolution = root.TryGetProperty("Resolution", out var step) ? step.GetDecimal() : inch ? 0.0001m : 0.001m,
            WithoutPointIsIncrements = !Is(root, "WithoutPoint", "units"),
            DOnDiameter = !Is(root, "DOn", "radius"),
            L20IsAdditional = !Is(root, "L20", "position"),
            Dialect = new DialectConfig { G91Adds = !Is(root, "G91", "sets") },
            Names = Texts(root, "Names").ToDictionary(pair => pair.Key, pair => Named(pair.Value)),
            Parameters = root.TryGetProperty("Parameters", out var maps) ? [.. maps.EnumerateArray().Select(Map)] : [],
        };
        return (machine, watch with { Columns = Texts(root, "Columns") });
    }

    private static bool Is(JsonElement root, string key, string value) =>
        root.TryGetProperty(key, out var element) && element.GetString() == value;

    private static Dictionary<string, string> Texts(JsonElement root, string key) =>
        root.TryGetProperty(key, out var element)
            ? element.EnumerateObject().ToDictionary(pair => pair.Name, pair => pair.Value.GetString() ?? "")
            : [];

    private static Register Named(string name) =>
        Register.TryParse(name, out var register) ? register : throw new FormatException(name);

    private static ParameterMap Map(JsonElement map) => new()
    {
        First = map.GetProperty("First").GetInt32(),
        Step = map.TryGetProperty("Step", out var step) ? step.GetInt32() : 1,
        Is = map.TryGetProperty("Is", out var what) ? what.GetString() : null,
        Of = map.TryGetProperty("Of", out var of) && ToolPartName.TryParse(of.GetString(), out var part) ? part : null,
        Axes = map.TryGetProperty("Axes", out var axes)
            ? [.. (axes.GetString() ?? "").Select(axis => Enum.Parse<Axis>(axis.ToString()))] : [],
        Registers = map.TryGetProperty("Registers", out var registers)
            ? [.. registers.EnumerateArray().Select(name => Named(name.GetString() ?? ""))] : [],
        Tools = map.TryGetProperty("Tools", out var tools)
            ? [.. tools.EnumerateArray().Select(tool => tool.GetInt32())] : [],
    };
}
