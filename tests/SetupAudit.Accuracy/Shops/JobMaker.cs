using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Accuracy.Shops;

/// <summary>Makes up the jobs of a machine: where their datums usually lie, how much they vary, their stock and
/// sheet.</summary>
internal sealed class JobMaker(
    Dice dice, MachineConfig machine, double mm, IReadOnlyList<RackTool> rack, ShopChoice choice)
{
    private static readonly DateTimeOffset SheetsWritten = new(2026, 1, 5, 8, 0, 0, TimeSpan.Zero);

    private static readonly Register[] Own =
    [
        Register.System(2), Register.System(3), Register.System(4), Register.System(5), Register.System(6),
        Register.Extended(1), Register.Extended(7),
    ];

    private readonly List<Register> _free = [.. Own];

    public IReadOnlyList<Job> Make(int count)
    {
        var jobs = Enumerable.Range(0, count).Select(MakeOne).ToList();
        // Small changes that only a dump shows are adjustments (contract 4a): without touches that are told, a setup is
        // seen only where another job left other values.
        return [.. jobs.Select(job => jobs.Count(other => other.Main == job.Main) > 1
            ? job
            : job with { Way = SettingWay.Probed })];
    }

    private Job MakeOne(int index)
    {
        var loose = machine.Kind == MachineKind.Mill && (choice.Plates || dice.Chance(0.12)) ? dice.Between(10, 60) * mm : 0;
        var stock = Stock();
        var tools = rack.Where(tool => tool.Number != machine.ProbeTool).ToList();
        var job = new Job
        {
            Program = "O" + MachineMaker.Text(2001 + index * 10 + dice.Whole(0, 9)),
            Datums = Datums(),
            Tools = dice.Some(tools, Math.Min(tools.Count, dice.Whole(3, 8))),
            Way = dice.Weighted<SettingWay>(
                (0.4, SettingWay.Probed), (0.3, SettingWay.ProbedSilently), (0.3, SettingWay.ByHand)),
            Loose = loose,
            Stock = stock,
            // Milled stock, or sawn.
            StockSpread = (dice.Chance(0.7) ? 0.02 : 0.2) * mm,
            At = $"{dice.Pick(["front", "back"])}-{dice.Pick(["left", "right"])}-top",
            Earlier = dice.Whole(4, 14),
        };
        return choice.AllSheets || dice.Chance(0.5) ? job with { Sheet = Sheet(job) } : job;
    }

    /// <summary>Most jobs use G54, in turn; some have a register of their own, and some a second one.</summary>
    private List<JobDatum> Datums()
    {
        var registers = new List<Register> { dice.Chance(0.6) ? Register.System(1) : Free() };
        if (machine.Kind == MachineKind.Mill && (choice.Plates || dice.Chance(0.3))) registers.Add(Free());
        if (choice.Plates && dice.Chance(0.5)) registers.Add(Free());
        return [.. registers.Distinct().Select(register => new JobDatum(register, Places()))];
    }

    private Register Free()
    {
        if (_free.Count == 0) return Register.System(1);
        var register = dice.Pick(_free);
        _free.Remove(register);
        return register;
    }

    private Dictionary<Axis, Place> Places()
    {
        Axis[] axes = machine.Kind == MachineKind.Mill ? [Axis.X, Axis.Y, Axis.Z] : [Axis.Z];
        return axes.ToDictionary(axis => axis, axis =>
        {
            var travel = machine.Travel[axis];
            var usual = (double)travel.Low + dice.Between(0.2, 0.8) * (double)(travel.High - travel.Low);
            return new Place(usual, dice.LogBetween(0.005, 0.15) * mm, dice.Weighted<Scatter>(
                (0.8, Scatter.Normal), (0.1, Scatter.Even), (0.1, Scatter.LongTails)));
        });
    }

    private Dictionary<Axis, double> Stock() => new()
    {
        [Axis.X] = Whole(dice.Between(30, 200)),
        [Axis.Y] = Whole(dice.Between(30, 120)),
        [Axis.Z] = Whole(dice.Between(12, 60)),
    };

    // Stock comes in whole millimetres, or eighths of an inch.
    private double Whole(double millimetres) =>
        mm == 1 ? Math.Round(millimetres) : Math.Round(millimetres / 25.4 * 8) / 8;

    private SetupSheet Sheet(Job job) => new()
    {
        Program = job.Program,
        Units = machine.Units,
        StockX = (decimal)job.Stock[Axis.X],
        StockY = (decimal)job.Stock[Axis.Y],
        StockZ = (decimal)job.Stock[Axis.Z],
        Datums = [.. job.Datums.Select(datum => SheetDatum(job, datum))],
        Tools = [.. job.Tools.Select(tool => new SheetTool(tool.Number, Around(tool.Length, (5 + 4 * 0.8) * mm)))],
        File = $"sheets/{job.Program}.json",
        Sha256 = job.Program,
        ModifiedUtc = SheetsWritten,
    };

    private SheetDatum SheetDatum(Job job, JobDatum datum) => new()
    {
        Register = datum.Register,
        Axes = [.. datum.Places.Keys],
        At = job.At,
        Expect = datum.Places.ToDictionary(pair => pair.Key, pair =>
            Around(pair.Value.Usual, (pair.Key == Axis.Z ? 0 : 5 * job.Loose) + dice.Between(5, 25) * mm)),
    };

    private static Bounds Around(double middle, double half) =>
        new(Math.Round((decimal)(middle - half), 1), Math.Round((decimal)(middle + half), 1));
}
