using SetupAudit.Findings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Alerts.Support;

/// <summary>Messages of the made-up shop.</summary>
internal static class SomeAlert
{
    public static readonly DateTimeOffset QueuedUtc = new(2026, 3, 2, 7, 14, 25, TimeSpan.Zero);

    public static AlertFinding AxisNotSet { get; } = new()
    {
        Id = "mill-3@20260302-071000/axis-not-set/G54.Z",
        Rule = "axis-not-set",
        Severity = Severity.Stop,
        Message = "X and Y of G54 were set in this setup and Z was not; it still stands at -310.200 mm from 2026-02-27.",
        AtUtc = new DateTimeOffset(2026, 3, 2, 7, 14, 0, TimeSpan.Zero),
    };

    public static AlertFinding Jump { get; } = new()
    {
        Id = "mill-3@20260302-071000/implausible-jump/G54.X",
        Rule = "implausible-jump",
        Severity = Severity.High,
        Message = "X of G54 stands at -397.000 mm, 3.010 mm from where this program has had it before.",
        AtUtc = new DateTimeOffset(2026, 3, 2, 7, 13, 58, TimeSpan.Zero),
        Moves = [new AlertMove("X of G54", -400.010m, -397.000m, 3.010m, Unit.Millimetre) { Limit = 0.5m }],
        LikelyCause = new Cause("stylus-radius", 0.8731m, -397.010m, "Half the stylus is 3.000 mm; it misses by 0.010 mm."),
    };

    public static AlertMessage Raised { get; } = new()
    {
        Id = "mill-3@20260302-071000/1",
        Thread = "mill-3@20260302-071000",
        Kind = AlertKind.Raised,
        Severity = Severity.Stop,
        QueuedUtc = QueuedUtc,
        Machine = "mill-3",
        Setup = "mill-3@20260302-071000",
        Findings = [AxisNotSet, Jump],
        RanSince = "No cycle has been seen since 07:13.",
        ReportLink = "http://127.0.0.1:8460/setups/mill-3@20260302-071000",
        Shop = "Harrow Lane Works",
        TimeZone = "Europe/London",
    };

    /// <summary>The same with one finding that says this, wherever a share can say something.</summary>
    public static AlertMessage Saying(string text) => Raised with
    {
        Machine = text,
        Setup = text,
        Thread = text,
        Id = text,
        Shop = text,
        RanSince = text,
        Findings =
        [
            Jump with
            {
                Message = text,
                Because = text,
                Rule = text,
                Moves = [new AlertMove(text, null, 1m, null, Unit.Inch)],
                LikelyCause = new Cause(text, 1m, null, text),
            },
        ],
    };
}
