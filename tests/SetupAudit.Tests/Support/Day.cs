using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Support;

/// <summary>
/// A day at one machine, told as a test reads it: dumps such as "G54.X=-310.2 T3.length=120.5" and print-out lines, each at a
/// time of 2 March 2026 (or "03-04 07:00" for another day). Folding happens in the order of the moments.
/// </summary>
internal sealed class Day
{
    private readonly List<Sighting> _sightings = [];
    private int _line;

    public Day(MachineKind kind = MachineKind.Mill, bool tellsCycles = true, SetupsConfig? setups = null)
    {
        List<PrintPattern> patterns =
        [
            new() { Match = "(?<register>G54) (?<axis>X)", Means = "datum-set" },
            new() { Match = "(?<register>G54)", Means = "measured" },
        ];
        if (tellsCycles) patterns.Add(new PrintPattern { Match = "START", Means = "cycle-start" });
        Machine = new MachineConfig
        {
            Name = "mill-3",
            Kind = kind,
            Units = Unit.Millimetre,
            XOnDiameter = kind == MachineKind.Lathe ? true : null,
            Watch =
            [
                new WatchConfig { Index = 0, Folder = "dumps", FullFolder = "/dumps", Files = "*", Read = SourceKind.DataSetting },
                new WatchConfig { Index = 1, Folder = "prints", FullFolder = "/prints", Files = "*", Read = SourceKind.PrintOut, Lines = "p" },
            ],
        };
        Shop = new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Store = new StoreConfig("/audit", null),
            Machines = [Machine],
            PrintOuts = new Dictionary<string, PrintOutConfig> { ["p"] = new() { Name = "p", Lines = patterns } },
            Setups = setups ?? new SetupsConfig(),
        };
    }

    public MachineConfig Machine { get; init; }

    public ShopConfig Shop { get; }

    public ProgramShelf Programs { get; } = new();

    public SheetShelf Sheets { get; } = new();

    public ToLoadShelf ToLoad { get; } = new();

    public ReviewShelf Reviews { get; } = new();

    public IReadOnlyList<Sighting> Sightings => _sightings;

    public static DateTimeOffset At(string time)
    {
        var text = time.Contains(' ', StringComparison.Ordinal) ? $"2026-{time}" : $"2026-03-02 {time}";
        return DateTimeOffset.Parse(text + "Z", CultureInfo.InvariantCulture);
    }

    public Day Dump(string time, string values, double lagHours = 0, string file = "dumps/offsets.nc")
    {
        var offsets = values.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select((text, index) => Reading(text, index + 1)).ToList();
        _sightings.Add(new Sighting
        {
            AtUtc = At(time),
            EarliestUtc = At(time).AddHours(-lagHours),
            Source = 0,
            File = file,
            Sha256 = Some.Sha256(),
            Line = 0,
            Arrival = Some.Text("arrival"),
            Offsets = offsets,
        });
        return this;
    }

    public Day Print(string time, PrintMeaning means, Func<PrintLine, PrintLine>? with = null)
    {
        var line = new PrintLine { Line = ++_line, Means = means, AtUtc = At(time) };
        _sightings.Add(new Sighting
        {
            AtUtc = At(time),
            EarliestUtc = At(time),
            Source = 1,
            File = "prints/shift.log",
            Sha256 = "prints",
            Line = line.Line,
            Arrival = "prints",
            Print = with is null ? line : with(line),
        });
        return this;
    }

    /// <summary>A print-out line with its own time in a file whose time on the share is another.</summary>
    public Day Share(string time, string shareTime)
    {
        Print(time, PrintMeaning.Note);
        _sightings[^1] = _sightings[^1] with { ShareUtc = At(shareTime) };
        return this;
    }

    public Day Cycle(string start, string end, string program = "O2041") => Start(start, program).End(end);

    public Day Start(string time, string program = "O2041") =>
        Print(time, PrintMeaning.CycleStart, line => line with { Program = program });

    public Day End(string time) => Print(time, PrintMeaning.CycleEnd);

    public Day Touch(string time, string values, string? feature = null)
    {
        foreach (var text in values.Split(' '))
        {
            var reading = Reading(text, 1);
            Print(time, reading.Key.IsTool ? PrintMeaning.ToolSet : PrintMeaning.DatumSet, line => reading.Key.IsTool
                ? line with { Tool = reading.Key.Tool, Value = reading.Value, Feature = feature }
                : line with { Register = reading.Key.Register, Axis = reading.Key.Axis, Value = reading.Value, Feature = feature });
        }
        return this;
    }

    public Day Program(string name, string modified, bool cuts = true)
    {
        Programs.Add(new ProgramText
        {
            Program = name,
            Sha256 = Some.Sha256(),
            WithoutCommentsSha256 = Some.Sha256(),
            File = $"programs/{name}.nc",
            ModifiedUtc = At(modified),
            Lines = 10,
            Steps = [new ProgramStep { Line = 2, Register = Register.System(1), Tool = 3, Cuts = cuts, Axes = [Axis.X, Axis.Y, Axis.Z] }],
        });
        return this;
    }

    public Derivation Derivation() => new(Shop, Machine, Programs, Sheets, ToLoad, Reviews);

    public MachineState State()
    {
        var derivation = Derivation();
        return _sightings.OrderBy(sighting => sighting, Comparer<Sighting>.Create(Sighting.Compare))
            .Aggregate(derivation.Start(), derivation.Fold);
    }

    /// <summary>What is derived when the last clean scan was at that time.</summary>
    public DerivedMachine Settled(string horizon) => Derivation().Settle(State(), At(horizon), []);

    public IReadOnlyList<Setup> Setups(string horizon) => [.. Settled(horizon).Setups.Select(derived => derived.Setup)];

    private static OffsetReading Reading(string text, int line)
    {
        var parts = text.Split('=');
        string[] names = [parts[0][..parts[0].LastIndexOf('.')], parts[0][(parts[0].LastIndexOf('.') + 1)..]];
        var key = names[0][0] == 'T'
            ? OffsetKey.OfTool(int.Parse(names[0][1..], CultureInfo.InvariantCulture), Part(names[1]))
            : OffsetKey.Datum(Named(names[0]), Enum.Parse<Axis>(names[1]));
        return new OffsetReading(line, 1, key, decimal.Parse(parts[1], CultureInfo.InvariantCulture), ReadingHow.Stands);
    }

    private static ToolPart Part(string name) =>
        ToolPartName.TryParse(name, out var part) ? part : throw new ArgumentException(name, nameof(name));

    private static Register Named(string name) =>
        Register.TryParse(name, out var register) ? register : throw new ArgumentException(name, nameof(name));
}
