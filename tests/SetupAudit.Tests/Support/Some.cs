using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Support;

/// <summary>
/// Values a test needs but does not care about. They come from a counter: each differs from the last, none is zero or
/// empty, and nothing is random.
/// </summary>
public static class Some
{
    private static readonly DateTimeOffset FirstMoment = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);
    private static int _count;

    public static int Int() => Interlocked.Increment(ref _count);

    /// <summary>A coordinate with three decimals, below zero as most machine coordinates are.</summary>
    public static decimal Coordinate() => -100m - Int() / 1000m;

    /// <summary>A word such as "corner-12".</summary>
    public static string Text(string stem = "text") => string.Create(CultureInfo.InvariantCulture, $"{stem}-{Int()}");

    public static string Machine() => Text("mill");

    public static string Program() => string.Create(CultureInfo.InvariantCulture, $"O{1000 + Int()}");

    public static string File(string ending = "nc") => Text("shares/mill/dump") + "." + ending;

    /// <summary>A moment in UTC, a whole number of minutes later than any given before.</summary>
    public static DateTimeOffset MomentUtc() => FirstMoment.AddMinutes(Int());

    public static string Sha256() => Int().ToString("x64", CultureInfo.InvariantCulture);

    public static Register Register() => Datums.Register.System(1 + Int() % 9);

    public static Axis Axis() => (Axis)(Int() % 3);

    public static OffsetKey Datum() => OffsetKey.Datum(Register(), Axis());

    public static OffsetKey ToolLength() => OffsetKey.OfTool(Int(), ToolPart.Length);

    public static SourceLine SourceLine() => new(File(), Sha256(), Int());

    public static Arrival Arrival()
    {
        var moment = MomentUtc();
        return new Arrival
        {
            Machine = Machine(),
            Source = 0,
            File = File(),
            Sha256 = Sha256(),
            SizeBytes = Int(),
            ModifiedUtc = moment,
            MomentUtc = moment,
            ReceivedUtc = moment.AddSeconds(5),
        };
    }
}
