using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>A made-up setup in an invented shop, with a forgotten Z, for tests of the report.</summary>
internal static class MadeUp
{
    public const string Setup = "mill-3@20260302-071000";
    public static readonly DateTimeOffset Opened = new(2026, 3, 2, 7, 10, 0, TimeSpan.Zero);
    private static readonly string Dump = new('a', 64);
    private static readonly string Print = new('b', 64);

    public static SetupReport Report() => new()
    {
        Shop = "Harrow Lane Works",
        Zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/London"),
        Machine = Mill(),
        Setup = Document(),
        Coverage =
        [
            new CoverageView
            {
                Machine = "mill-3",
                Source = "shares/mill-3/offsets/*.nc",
                Tells = ["registers", "tools"],
                LastUtc = Opened.AddMinutes(41),
                CannotTell = ["who changed a value", "when between two dumps a value changed"],
            },
        ],
        Quote = source => source.Line switch
        {
            4 => "G10 L2 P1 X-412.250 Y-203.118 Z-310.450",
            14 => "2026-03-02 07:14:20 TOUCH corner-1 G54 SIZE -",
            _ => null,
        },
        MadeUtc = Opened.AddHours(2),
        AsOfUtc = Opened.AddMinutes(52),
        Version = "0.1.0",
    };

    public static MachineConfig Mill() => new()
    {
        Name = "mill-3",
        Kind = MachineKind.Mill,
        Units = Unit.Millimetre,
        Travel = new Dictionary<Axis, Bounds>
        {
            [Axis.X] = new(-800, 0),
            [Axis.Y] = new(-450, 0),
            [Axis.Z] = new(-520, 0),
        },
    };

    public static SetupDocument Document() => new(Head(), Measurements(), Changes(), Cycles(), Findings());

    public static SetupView Head() => new()
    {
        Setup = Setup,
        Machine = "mill-3",
        OpenedUtc = Opened,
        LastEventUtc = Opened.AddMinutes(12),
        CuttingUtc = Opened.AddMinutes(30),
        JudgedUtc = Opened.AddMinutes(30),
        ClosedUtc = Opened.AddMinutes(41),
        Status = SetupStatus.Queried,
        Programs = ["O2041"],
        Setter = "R. Okafor",
        Unit = Unit.Millimetre,
        Registers =
        [
            new RegisterView(Register.System(1), true,
            [
                (Axis.X, Set(-410.000m, -412.250m)), (Axis.Y, Set(-203.240m, -203.118m)), (Axis.Z, Kept(-310.450m, true)),
            ]),
            new RegisterView(Register.System(2), true,
            [
                (Axis.X, Set(-180.500m, -176.020m)), (Axis.Y, Set(-210.040m, -209.965m)), (Axis.Z, Set(-318.200m, -311.075m)),
            ]),
            new RegisterView(Register.System(5), false,
                [(Axis.X, Kept(-600.000m)), (Axis.Y, Kept(-300.000m)), (Axis.Z, Kept(-350.000m))]),
            new RegisterView(Register.Extended(7), null,
                [(Axis.X, Kept(-600.000m)), (Axis.Y, Unknown()), (Axis.Z, Unknown())]),
        ],
        Tools =
        [
            new ToolView(3, true, [(ToolPart.Length, Set(121.402m, 121.388m)), (ToolPart.LengthWear, Kept(0.000m))]),
            new ToolView(12, true, [(ToolPart.Length, Kept(98.115m, true))]),
        ],
        Texts =
        [
            new ProgramUseView
            {
                Program = "O2041",
                Title = "PUMP COVER OP 10",
                File = "shares/mill-3/programs/O2041.nc",
                Sha256 = new string('c', 64),
                ModifiedUtc = Opened.AddDays(-3),
            },
        ],
        Sheets =
        [
            new SheetView
            {
                Program = "O2041",
                Part = "pump cover",
                StockX = 110m,
                StockY = 75m,
                StockZ = 32m,
                Datums = [(Register.System(1), "back-left-top"), (Register.System(2), "back-left-top")],
                Source = new SourceLine("sheets/O2041.json", new string('d', 64), 1),
            },
        ],
    };

    public static ChangeView Change(OffsetKey key, decimal before, decimal after, int minute, bool adjustment = false) => new()
    {
        Change = $"mill-3@20260302-07{10 + minute}00/{key}",
        Machine = "mill-3",
        Key = key,
        Before = before,
        After = after,
        Delta = after - before,
        Unit = Unit.Millimetre,
        FromUtc = Opened.AddMinutes(minute - 1),
        ToUtc = Opened.AddMinutes(minute),
        Arrival = "mill-3@20260302-071400/offsets/0714.nc#aaaaaaaa",
        File = "shares/mill-3/offsets/0714.nc",
        Sha256 = Dump,
        Line = 4,
        Setup = Setup,
        By = adjustment ? ChangedBy.Unknown : ChangedBy.Measured,
        BySays = adjustment ? null : "print-out line 14, feature corner-1",
        Touched = !adjustment,
        Adjustment = adjustment,
    };

    public static FindingView Finding(string rule, Severity severity, string message) => new()
    {
        Finding = $"{Setup}/{rule}/G54.Z",
        Rule = rule,
        Severity = severity,
        Machine = "mill-3",
        Setup = Setup,
        Register = Register.System(1),
        Axis = Axis.Z,
        Message = message,
        AtUtc = Opened.AddMinutes(30),
        Evidence = [new SourceLine("shares/mill-3/offsets/0714.nc", Dump, 4), new SourceLine("shares/mill-3/prints/spindle.log", Print, 14)],
    };

    private static IReadOnlyList<ChangeView> Changes() =>
    [
        Change(OffsetKey.Datum(Register.System(1), Axis.X), -410.000m, -412.250m, 4),
        Change(OffsetKey.Datum(Register.System(1), Axis.Y), -203.240m, -203.118m, 4),
        Change(OffsetKey.Datum(Register.System(2), Axis.X), -180.500m, -176.020m, 9),
        Change(OffsetKey.OfTool(3, ToolPart.LengthWear), 0.000m, -0.020m, 47, adjustment: true),
    ];

    private static IReadOnlyList<FindingView> Findings() =>
    [
        Finding("axis-not-set", Severity.Stop,
            "X and Y of G54 were set at 07:14, Z was not: it still holds -310.450 mm from Thu 26 Feb, and O2041 cuts in G54 and moves in Z."),
        Finding("outside-sheet", Severity.High, "Z of G54 is -310.450 mm; the setup sheet expects -330 to -312 mm.") with
        {
            Value = -310.450m,
            ExpectedRange = new Bounds(-330, -312),
            Unit = Unit.Millimetre,
            Causes =
            [
                new Cause("riser-height", 0.81m, -335.450m, "A riser of 25.000 mm less gives -335.450 mm, 0.004 mm from the middle of this program's past values."),
                new Cause("fixture-moved", 0.19m, null, "None of the ordinary mistakes fits better."),
            ],
        },
        Finding("search-too-long", Severity.Low, "The search of line 212 is 60.0 mm; from 6.0 mm above the surface, 25.0 mm is enough.") with
        {
            Finding = Setup + "/search-too-long/212",
            Axis = null,
            Register = null,
        },
    ];

    private static IReadOnlyList<MeasurementView> Measurements() =>
    [
        Measured("bore-1", 25.004m, 25m, 24.98m, 25.02m), Measured("bore-2", 25.031m, 25m, 24.98m, 25.02m),
    ];

    private static MeasurementView Measured(string feature, decimal size, decimal nominal, decimal low, decimal high) => new()
    {
        Machine = "mill-3",
        Setup = Setup,
        AtUtc = Opened.AddMinutes(10),
        Feature = feature,
        Register = Register.System(1),
        Size = size,
        Nominal = nominal,
        Low = low,
        High = high,
        Deviation = size - nominal,
        Unit = Unit.Millimetre,
        File = "shares/mill-3/prints/spindle.log",
        Sha256 = Print,
        Line = 14,
    };

    private static IReadOnlyList<CycleView> Cycles() =>
    [
        .. Enumerable.Range(0, 3).Select(index => new CycleView
        {
            Machine = "mill-3",
            Setup = Setup,
            Program = "O2041",
            StartUtc = Opened.AddMinutes(30 + 12 * index),
            EndUtc = index == 2 ? null : Opened.AddMinutes(41 + 12 * index),
            Ended = index == 2 ? CycleEnding.Unknown : CycleEnding.Finished,
            Part = "pump cover",
            Serial = $"PC-{117 + index}",
            File = "shares/mill-3/prints/spindle.log",
            Sha256 = Print,
            Line = 20 + index,
        }),
    ];

    private static OffsetView Set(decimal before, decimal after) => new()
    {
        Before = before,
        After = after,
        Set = true,
        By = ChangedBy.Measured,
        Needed = true,
        SinceUtc = Opened.AddMinutes(4),
    };

    private static OffsetView Kept(decimal value, bool needed = false) =>
        new() { Before = value, After = value, Set = false, Needed = needed, SinceUtc = Opened.AddDays(-4) };

    private static OffsetView Unknown() => new() { Set = false, Needed = false };
}
