using System.Globalization;
using System.Text;
using BenchmarkDotNet.Attributes;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Benchmarks;

/// <summary>Print-outs of 1 MB by the four patterns of the documentation: every line a reading, and one in twenty.</summary>
public class PrintOutReading
{
    private const int SizeBytes = 1_000_000;
    private const string Time = "^(?<time>[-0-9]+ [:0-9]+) ";

    private static readonly DateTime Monday = new(2026, 3, 2, 7, 0, 0, DateTimeKind.Unspecified);

    private static readonly MachineConfig Mill =
        new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };

    private readonly PrintOutReader _reader = new(
        new PrintOutConfig
        {
            Name = "shop-prints",
            Time = "yyyy-MM-dd HH:mm:ss",
            Lines =
            [
                new() { Match = Time + "CYCLE START (?<program>O\\d+)", Means = "cycle-start" },
                new() { Match = Time + "CYCLE END (?<program>O\\d+)", Means = "cycle-end" },
                new()
                {
                    Match = Time + "TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)",
                    Means = "measured",
                },
                new() { Match = Time + "ALARM (?<code>\\d+) (?<text>.*)", Means = "alarm", Kind = "surface-not-found" },
            ],
        },
        Mill,
        new ShopClock(new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Store = new StoreConfig("", null),
            Machines = [Mill],
        }));

    private readonly byte[] _full = PrintOut(readingEvery: 1);
    private readonly byte[] _sparse = PrintOut(readingEvery: 20);

    [Benchmark]
    public ReadResult<PrintLine> Every_line_a_reading() => _reader.Read(_full, 1);

    [Benchmark]
    public ReadResult<PrintLine> One_line_in_twenty_a_reading() => _reader.Read(_sparse, 1);

    private static byte[] PrintOut(int readingEvery)
    {
        var text = new StringBuilder();
        for (var line = 0; text.Length < SizeBytes; line++)
        {
            text.Append(Monday.AddSeconds(line).ToString("yyyy-MM-dd HH:mm:ss ", CultureInfo.InvariantCulture));
            if (line % readingEvery != 0) text.Append("COOLANT LEVEL 81 PERCENT, SPINDLE LOAD 12\n");
            else if (line / readingEvery % 12 == 0) text.Append("CYCLE START O2041\n");
            else if (line / readingEvery % 12 == 11) text.Append("CYCLE END O2041\n");
            else text.Append(CultureInfo.InvariantCulture, $"TOUCH bore-{line % 7} G54 SIZE {25m + line % 9 / 1000m:0.000}\n");
        }
        return Encoding.ASCII.GetBytes(text.ToString());
    }
}
