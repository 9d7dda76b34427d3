using System.Globalization;
using System.Text;
using BenchmarkDotNet.Attributes;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit;

/// <summary>
/// Typed reading of one dump of about 6 KB, as a control writes it at the end of a setup. A time of 20 microseconds is
/// 300 MB/s. Run: dotnet run -c Release --project tests/SetupAudit.Benchmarks -- --filter "*DumpReading*"
/// </summary>
[MemoryDiagnoser]
public class DumpReading
{
    private const int DumpBytes = 6144;

    private static readonly MachineConfig Machine =
        new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };

    private readonly byte[] _blocks = Fill("%\nO9001\nG21 G90\n", Block, "M30\n%\n");
    private readonly byte[] _tools = Fill("%\n", Tool, "%\n");
    private readonly byte[] _parameters = Fill("made up\n\n", Parameter, "");
    private readonly byte[] _table = Fill("Register,X,Y,Z\n", Row, "");

    [Benchmark(Baseline = true)]
    public DumpResult Registers() => Read(_blocks, SourceKind.DataSetting);

    [Benchmark]
    public DumpResult Tools() => Read(_tools, SourceKind.DataSetting);

    [Benchmark]
    public DumpResult Parameters() => Read(_parameters, SourceKind.Parameters);

    [Benchmark]
    public DumpResult Table() => Read(_table, SourceKind.Table);

    /// <summary>The scanner alone, which the program reader works on too.</summary>
    [Benchmark]
    public int Words()
    {
        var scanner = new WordScanner(_blocks);
        var words = 0;
        while (scanner.Read())
            if (scanner.Kind == WordKind.Word) words++;
        return words;
    }

    private static DumpResult Read(byte[] bytes, SourceKind kind)
    {
        var watch = new WatchConfig { Index = 0, Folder = "f", FullFolder = "f", Files = "*", Read = kind };
        return DumpReader.Read(bytes, Machine, watch);
    }

    private static byte[] Fill(string head, Func<int, string> line, string tail)
    {
        var text = new StringBuilder(head);
        for (var index = 0; text.Length < DumpBytes - 64; index++) text.Append(line(index)).Append('\n');
        return Encoding.ASCII.GetBytes(text.Append(tail).ToString());
    }

    private static string Block(int index) => string.Create(CultureInfo.InvariantCulture,
        $"G10 L20 P{index + 1} X-{310.2000m + index} Y-{205.1150m + index} Z-{412.7350m + index}");

    private static string Tool(int index) =>
        string.Create(CultureInfo.InvariantCulture, $"G10 L{10 + index % 4} P{index / 4 + 1} R{120.5000m + index}");

    private static string Parameter(int index) => string.Create(CultureInfo.InvariantCulture,
        $"{5161 + index} -{310.200000m + index}");

    private static string Row(int index) => string.Create(CultureInfo.InvariantCulture,
        $"G54.1 P{index + 1},-{310.2000m + index},-{205.1150m + index},-{412.7350m + index}");
}
