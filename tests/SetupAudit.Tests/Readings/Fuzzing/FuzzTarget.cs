using System.Globalization;
using SetupAudit.Commands.Validation;
using SetupAudit.Shop;

namespace SetupAudit.Readings.Fuzzing;

/// <summary>The readers that meet what anyone who can write to a share may put there.</summary>
internal sealed record FuzzTarget(string Name, string Corpus, Func<byte[], int, FuzzOutcome> Read)
{
    /// <summary>How much work a byte may make.</summary>
    public int AllocatedPerByte { get; init; } = 4_000;

    private static readonly ShopClock Clock = new(new ShopConfig
    {
        Name = "made up",
        TimeZone = "Europe/London",
        Store = new StoreConfig("", null),
        Machines = [],
    });

    private static readonly MachineConfig[] Machines =
    [
        Dumps.Mill with { Parameters = [new ParameterMap { Index = 0, First = 6001, Step = 1, Is = "measured size" }] },
        Dumps.InchMill with { L20IsAdditional = false, DOnDiameter = false, WithoutPointIsIncrements = false },
        Dumps.Lathe with { Dialect = new DialectConfig { G91Adds = false } },
    ];

    private static readonly PrintOutReader PrintOuts = new(new PrintOutConfig
    {
        Name = "shop-prints",
        Time = "yyyy-MM-dd HH:mm:ss",
        Lines = [.. Patterns()],
    }, Dumps.Mill, Clock);

    private static readonly MomentFinder Moments = new(Dumps.Watch(SourceKind.DataSetting) with
    {
        Time = TimeFrom.Text,
        TimePattern = "(?<time>[-0-9]+ [:0-9]+)",
        TimeFormat = "yyyy-MM-dd HH:mm:ss",
    }, Dumps.Mill, Clock);

    public static IReadOnlyList<FuzzTarget> All { get; } =
    [
        new("data-setting", "data-setting", (bytes, pick) => Dump(SourceKind.DataSetting, bytes, pick)),
        new("parameters", "parameters", (bytes, pick) => Dump(SourceKind.Parameters, bytes, pick)),
        new("table", "table", (bytes, pick) => Dump(SourceKind.Table, bytes, pick)),
        new("print-out", "print-out", (bytes, _) => PrintOut(bytes)),
        new("program", "program", Program),
        new("mtconnect", "mtconnect", Streams),
        new("sheet", "sheet", (bytes, _) => Sheet(bytes)),
        new("configuration", "config", (bytes, _) => Configuration(bytes))
        {
            // A pattern of a print-out is compiled to see whether it can be: 200 KB for a few dozen bytes.
            AllocatedPerByte = 20_000,
        },
        new("moment", "print-out", (bytes, _) => Moment(bytes)),
    ];

    private static FuzzOutcome Dump(SourceKind kind, byte[] bytes, int pick)
    {
        var watch = Dumps.Watch(kind) with
        {
            Columns = pick % 2 == 0 ? Dumps.Watch(kind).Columns : new Dictionary<string, string> { ["Register"] = "WCS" },
        };
        var result = DumpReader.Read(bytes, Machines[pick % Machines.Length], watch);
        return new FuzzOutcome(
            [
                .. result.Offsets.Select(one => (one.Line, one.Column)), .. result.Measured.Select(one => (one.Line, 0)),
                .. result.Faults.Select(one => (one.Line, one.Column)),
            ],
            [.. result.Offsets.Select(one => string.Create(
                CultureInfo.InvariantCulture, $"{one.Line}:{one.Column} {one.Key}={one.Value} {one.How}"))],
            result.Faults.Count);
    }

    private static FuzzOutcome PrintOut(byte[] bytes)
    {
        var result = PrintOuts.Read(bytes, 1);
        return new FuzzOutcome(
            [.. result.Readings.Select(one => (one.Line, 0)), .. result.Faults.Select(one => (one.Line, one.Column))],
            [.. result.Readings.Select(one => one.ToString())],
            result.Faults.Count);
    }

    // Read in pieces of any size, and then run: what a program does is worked out from what was read of it.
    private static FuzzOutcome Program(byte[] bytes, int pick)
    {
        var text = Programs.Read(bytes, Programs.Mill, "programs/made-up.nc", pick % 3 == 0 ? 1 + pick % 97 : int.MaxValue);
        var shelf = new ProgramShelf();
        shelf.Add(text);
        var scope = shelf.Scope(text.Program, Programs.Modified);
        return new FuzzOutcome(
            [
                .. text.Writes.Select(one => (one.Line, 0)), .. text.Probing.Select(one => (one.Line, 0)),
                .. text.Faults.Select(one => (one.Line, one.Column)),
            ],
            [.. text.Writes.Select(one => one.ToString()), .. scope?.Tools.Select(one => one.ToString()) ?? []],
            text.Faults.Count);
    }

    private static FuzzOutcome Streams(byte[] bytes, int pick)
    {
        var watch = Dumps.Watch(SourceKind.Mtconnect) with
        {
            Stream = new StreamConfig { Path = pick % 5 == 0 ? "path" : null, Device = pick % 7 == 0 ? "mill-3" : null },
        };
        var document = StreamsReader.Read(bytes, Machines[pick % Machines.Length], watch);
        var observed = document.Moments.SelectMany(moment => moment.Observed).ToList();
        return new FuzzOutcome(
            [
                .. observed.Select(one => (one.Line, one.Column)),
                .. observed.SelectMany(one => one.Offsets).Select(one => (one.Line, one.Column)),
                .. document.Moments.Select(moment => (moment.Line, 0)),
                .. document.Faults.Select(one => (one.Line, one.Column)),
            ],
            [.. observed.Select(one => one.ToString()), .. observed.SelectMany(one => one.Names(1))],
            document.Faults.Count);
    }

    private static FuzzOutcome Sheet(byte[] bytes)
    {
        var result = SetupSheetReader.Read(bytes, "sheets/O1.json", "0", Programs.Modified);
        return new FuzzOutcome([.. result.Faults.Select(one => (one.Line, one.Column))], [], result.Faults.Count);
    }

    private static FuzzOutcome Configuration(byte[] bytes)
    {
        var result = ShopConfigReader.Read(bytes, Path.GetTempPath());
        var faults = result.Faults.ToList();
        if (result.Draft is { } draft) faults.AddRange(ValueFaults.Find(draft, result));
        return new FuzzOutcome([.. faults.Select(one => (one.Line, one.Column))], [], faults.Count);
    }

    private static FuzzOutcome Moment(byte[] bytes)
    {
        var moment = Moments.Find("made-up.log", bytes, Programs.Modified);
        return new FuzzOutcome([], [moment.ToString()], 0);
    }

    private static IEnumerable<PrintPattern> Patterns()
    {
        const string start = "^(?:(?<time>[-0-9]+ [:0-9]+) )?";
        (string Match, string Means)[] patterns =
        [
            ("CYCLE START( (?<program>O\\d+))?", "cycle-start"), ("CYCLE END (?<program>O\\d+)", "cycle-end"),
            ("TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)", "measured"),
            ("SET (?<register>G5\\S+( P\\d+)?|EXT) (?<axis>[A-Z])(?<value>.*)", "datum-set"),
            ("TOOL (?<tool>T[\\d.]+) LENGTH (?<value>\\S+)", "tool-set"), ("SETTER (?<setter>.*)", "setter"),
            ("COUNT (?<count>\\S+)", "note"), ("ALARM (?<code>\\d+) (?<text>.*), (?<axis>[XYZ]) (?<register>G5\\d)", "alarm"),
        ];
        return patterns.Select(one => new PrintPattern { Match = start + one.Match, Means = one.Means });
    }
}
