using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Readings;

public sealed class StreamsReaderTests
{
    private static readonly JsonSerializerOptions Plain = new()
    {
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static TheoryData<string> Inputs => DumpFixture.Inputs("mtconnect");

    [Theory]
    [MemberData(nameof(Inputs))]
    public void A_document_of_an_agent_reads_as_its_pair_says(string name)
    {
        var (machine, watch) = Setting(Repository.At($"fixtures/mtconnect/{name}.machine.json"));
        Fixtures.Expect("mtconnect", name, Json(StreamsReader.Read(Fixtures.Bytes("mtconnect", name), machine, watch)));
    }

    private static string Json(StreamDocument document) =>
        $$"""
        {
          "status": {{JsonSerializer.Serialize(document.Status.ToString())}},
          "moments": [{{Lines(document.Moments.Select(Json))}}],
          "faults": [{{Lines(document.Faults.Select(fault => Line(new { fault.Line, fault.Column, fault.Reason })))}}]
        }
        """;

    private static string Json(StreamMoment moment)
    {
        var head = Line(new
        {
            at = moment.AtUtc.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'"),
            line = moment.Line,
            range = moment.Range.ToString(),
            shows = moment.Shows is null ? null : string.Join(' ', moment.Shows.Select(one => $"{one.Item}:{one.Sequence}")),
            writtenHere = moment.WrittenHere,
        });
        return string.Join(",\n    ", moment.Observed.SelectMany(Observed).Prepend(head));
    }

    private static IEnumerable<string> Observed(StreamObservation one) => one.Offsets.Count == 0
        ? [Line(new { one.Line, one.Column, one.Sequence, one.Item, means = one.Means.ToString(), one.Text, one.Code, one.Kind, one.Count })]
        : one.Offsets.Select(reading => Line(new
        {
            reading.Line,
            reading.Column,
            one.Sequence,
            one.Item,
            key = reading.Key.ToString(),
            reading.Value,
        }));

    private static string Line<T>(T value) => JsonSerializer.Serialize(value, Plain);

    private static string Lines(IEnumerable<string> items)
    {
        var text = string.Join(",\n", items.Select(item => "    " + item));
        return text.Length == 0 ? "" : $"\n{text}\n  ";
    }

    private static (MachineConfig Machine, WatchConfig Watch) Setting(string path)
    {
        var watch = Dumps.Watch(SourceKind.Mtconnect) with { Stream = new StreamConfig() };
        if (!File.Exists(path)) return (Dumps.Mill, watch);
        using var document = JsonDocument.Parse(File.ReadAllText(path));
        var root = document.RootElement;
        var machine = (Text(root, "Units") == "inch" ? Dumps.InchMill : Dumps.Mill) with
        {
            Names = Texts(root, "Names").ToDictionary(pair => pair.Key, pair => Named(pair.Value), StringComparer.OrdinalIgnoreCase),
        };
        return (machine, watch with
        {
            Columns = Texts(root, "Columns"),
            Stream = new StreamConfig
            {
                Device = Text(root, "Device"),
                Path = Text(root, "Path"),
                Alarms = Texts(root, "Alarms"),
            },
        });
    }

    private static string? Text(JsonElement root, string key) =>
        root.TryGetProperty(key, out var element) ? element.GetString() : null;

    private static Dictionary<string, string> Texts(JsonElement root, string key) =>
        root.TryGetProperty(key, out var element)
            ? element.EnumerateObject().ToDictionary(pair => pair.Name, pair => pair.Value.GetString() ?? "")
            : [];

    private static Register Named(string name) =>
        Register.TryParse(name, out var register) ? register : throw new FormatException(name);
}
