using BenchmarkDotNet.Attributes;
using SetupAudit.Datums;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Benchmarks;

/// <summary>What one more dump of 300 offsets costs after a month of history and after a year: the same, or the fold is
/// wrong.</summary>
[MemoryDiagnoser]
public class Folding
{
    private const int Registers = 54;
    private const int Tools = 36;

    private readonly MachineConfig _machine = new()
    {
        Name = "mill-3",
        Kind = MachineKind.Mill,
        Units = Unit.Millimetre,
        Watch = [new WatchConfig { Index = 0, Folder = "d", FullFolder = "/d", Files = "*",
            Read = SourceKind.DataSetting }],
    };

    private Derivation? _derivation;
    private MachineState? _state;
    private Sighting? _next;
    private Sighting? _moved;

    /// <summary>Days of history: a dump each half hour, and a setup of three axes each morning.</summary>
    [Params(30, 365)]
    public int Days { get; set; }

    [GlobalSetup]
    public void SetUp()
    {
        var shop = new ShopConfig
        {
            Name = "Made up",
            TimeZone = "UTC",
            Store = new StoreConfig("/a", null),
            Machines = [_machine]
        };
        _derivation = new Derivation(shop, _machine, new ProgramShelf(), new SheetShelf(), new Changes.ToLoadShelf());
        var start = new DateTimeOffset(2026, 1, 5, 6, 0, 0, TimeSpan.Zero);
        _state = _derivation.Start();
        for (var day = 0; day < Days; day++)
            for (var half = 0; half < 24; half++)
                _state = _derivation.Fold(_state, Dump(start.AddDays(day).AddMinutes(30 * half), day)).Drained();
        _next = Dump(start.AddDays(Days), Days - 1);
        _moved = Dump(start.AddDays(Days), Days);
    }

    [Benchmark(Baseline = true)]
    public MachineState Unchanged() => _derivation!.Fold(_state!, _next!);

    [Benchmark]
    public MachineState ThreeAxesMoved() => _derivation!.Fold(_state!, _moved!);

    [Benchmark]
    public DerivedMachine Settled() => _derivation!.Settle(_state!, _next!.AtUtc, []);

    private static Sighting Dump(DateTimeOffset moment, int day)
    {
        var offsets = new List<OffsetReading>();
        for (var register = 1; register <= Registers; register++)
            foreach (var axis in new[] { Axis.X, Axis.Y, Axis.Z })
            {
                var key = OffsetKey.Datum(
                    register <= 6 ? Register.System(register) : Register.Extended(register), axis);
                offsets.Add(new OffsetReading(
                    register, 1, key, -100m - register - (register == 1 ? day % 7 : 0), ReadingHow.Stands));
            }
        for (var tool = 1; tool <= Tools; tool++)
            foreach (var part in new[] { ToolPart.Length, ToolPart.LengthWear, ToolPart.Diameter,
                ToolPart.DiameterWear })
                offsets.Add(new OffsetReading(
                    100 + tool, 1, OffsetKey.OfTool(tool, part), 100m + tool, ReadingHow.Stands));
        return new Sighting
        {
            AtUtc = moment,
            EarliestUtc = moment,
            Source = 0,
            File = "d/offsets.nc",
            Sha256 = "s",
            Line = 0,
            Arrival = "a",
            Offsets = offsets,
        };
    }
}
