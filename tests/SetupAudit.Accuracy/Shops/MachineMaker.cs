using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Accuracy.Shops;

/// <summary>Makes up the machines of a shop, each with its rack and its jobs.</summary>
internal static class MachineMaker
{
    /// <summary>Two mills and a lathe.</summary>
    public static IReadOnlyList<MadeMachine> Make(int seed, ShopChoice choice) => choice.Plates
        ? [Make(seed, "mill-3", MachineKind.Mill, choice), Make(seed, "mill-4", MachineKind.Mill, choice)]
        :
        [
            Make(seed, "mill-1", MachineKind.Mill, choice), Make(seed, "mill-2", MachineKind.Mill, choice),
            Make(seed, "lathe-1", MachineKind.Lathe, choice),
        ];

    private static MadeMachine Make(int seed, string name, MachineKind kind, ShopChoice choice)
    {
        var dice = Dice.For(seed, name);
        var inch = choice.Unit is { } unit ? unit == Unit.Inch : dice.Chance(0.4);
        var tellsCycles = dice.Chance(0.85);
        var mm = inch ? 1 / 25.4 : 1.0;
        var config = Config(dice, name, kind, inch, tellsCycles);
        var rack = Rack(dice, kind == MachineKind.Lathe, config.ProbeTool, mm);
        var jobs = new JobMaker(dice, config, mm, rack, choice).Make(kind == MachineKind.Lathe ? 2 : dice.Whole(3, 5));
        var machine = new MadeMachine
        {
            Config = config,
            Shop = Shop(config, tellsCycles),
            Mm = mm,
            Rack = rack,
            Jobs = jobs,
            Programs = new ProgramShelf(),
            Sheets = new SheetShelf(),
            TellsCycles = tellsCycles,
        };
        foreach (var sheet in jobs.Select(job => job.Sheet).OfType<SetupSheet>()) machine.Sheets.Add(sheet);
        return machine;
    }

    private static MachineConfig Config(Dice dice, string name, MachineKind kind, bool inch, bool tellsCycles)
    {
        decimal[] risers = inch ? [0.75m, 1m, 1.5m, 2m, 3m] : [20m, 25m, 30m, 40m, 50m, 75m];
        decimal[] gauges = inch ? [0.25m, 0.5m, 1m, 2m] : [5m, 10m, 20m, 50m];
        decimal[] finders = inch ? [0.2m, 0.375m, 0.5m] : [4m, 6m, 10m];
        decimal[] styli = inch ? [0.125m, 0.2362m, 0.25m] : [2m, 4m, 5m, 6m];
        return new MachineConfig
        {
            Name = name,
            Kind = kind,
            Units = inch ? Unit.Inch : Unit.Millimetre,
            XOnDiameter = kind == MachineKind.Lathe ? true : null,
            Resolution = inch ? 0.0001m : 0.001m,
            WithoutPointIsIncrements = dice.Chance(0.7),
            Travel = Travel(dice, kind, inch),
            StylusDiameter = dice.Pick(styli),
            ProbeTool = kind == MachineKind.Lathe ? null : dice.Pick([20, 24, 30, 99]),
            Risers = dice.Some(risers, dice.Whole(1, 3)),
            Gauges = dice.Some(gauges, dice.Whole(1, 2)),
            EdgeFinders = dice.Some(finders, dice.Whole(1, 2)),
            Standoff = dice.Pick<decimal>(inch ? [0.2m, 0.25m, 0.4m] : [5m, 6m, 10m]),
            Search = dice.Pick<decimal>(inch ? [0.5m, 0.75m, 1m, 1.5m] : [15m, 20m, 25m, 40m]),
            Watch = Watch(tellsCycles),
        };
    }

    private static Dictionary<Axis, Bounds> Travel(Dice dice, MachineKind kind, bool inch)
    {
        var (x, y, z) = dice.Pick<(decimal X, decimal Y, decimal Z)>(
            [(500, 400, 400), (660, 460, 460), (800, 450, 520), (1050, 560, 560), (1500, 660, 640)]);
        if (inch) (x, y, z) = (Math.Round(x / 25), Math.Round(y / 25), Math.Round(z / 25));
        var travel = new Dictionary<Axis, Bounds> { [Axis.X] = new(-x, 0), [Axis.Z] = new(-z, 0) };
        if (kind == MachineKind.Mill) travel[Axis.Y] = new Bounds(-y, 0);
        return travel;
    }

    private static WatchConfig[] Watch(bool tellsCycles)
    {
        WatchConfig dumps = new()
        {
            Index = 0,
            Folder = "dumps",
            FullFolder = "/dumps",
            Files = "*.nc",
            Read = SourceKind.DataSetting,
        };
        WatchConfig prints = new()
        {
            Index = 1,
            Folder = "prints",
            FullFolder = "/prints",
            Files = "*.log",
            Read = SourceKind.PrintOut,
            Lines = tellsCycles ? "cycles" : "touches",
        };
        return [dumps, prints];
    }

    private static ShopConfig Shop(MachineConfig machine, bool tellsCycles)
    {
        List<PrintPattern> patterns = [new() { Match = "(?<register>G54) (?<axis>X)", Means = "datum-set" }];
        if (tellsCycles) patterns.Add(new PrintPattern { Match = "START", Means = "cycle-start" });
        var name = tellsCycles ? "cycles" : "touches";
        return new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Store = new StoreConfig("/audit", null),
            Machines = [machine],
            PrintOuts = new Dictionary<string, PrintOutConfig> { [name] = new() { Name = name, Lines = patterns } },
        };
    }

    private static List<RackTool> Rack(Dice dice, bool turning, int? probe, double mm)
    {
        var rack = new List<RackTool>();
        // Some shops measure every tool in every setup, the others only those that were replaced.
        var everySetup = dice.Chance(0.35);
        double[] diameters = [3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 40, 50, 63];
        for (var number = 1; number <= (turning ? 8 : dice.Whole(8, 20)); number++)
        {
            var spread = everySetup ? dice.LogBetween(0.005, 0.8) : turning ? dice.LogBetween(0.03, 0.3) : 0.8;
            rack.Add(turning
                ? new RackTool(number, true, dice.Between(20, 160) * mm, dice.Between(40, 220) * mm, everySetup,
                    spread * mm, spread * mm)
                : new RackTool(number, false, dice.Between(60, 250) * mm, Nominal(dice.Pick(diameters), mm), everySetup,
                    spread * mm, 0.03 * mm));
        }
        if (probe is { } probeTool)
            rack.Add(new RackTool(probeTool, false, dice.Between(120, 220) * mm, 0, false, 0, 0));
        return rack;
    }

    // An inch shop has inch cutters: whole sixteenths.
    private static double Nominal(double millimetres, double mm) =>
        mm == 1 ? millimetres : Math.Max(1, Math.Round(millimetres / 25.4 * 16)) / 16;

    public static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
