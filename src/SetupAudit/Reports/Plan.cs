using SetupAudit.Datums;

namespace SetupAudit.Reports;

/// <summary>
/// What the drawing of a table from above shows: the axes it spans, the travel, and the datums in it.
/// </summary>
internal sealed class Plan
{
    // A datum further out than this share of the travel would shrink the table to a dot: it is drawn at the edge.
    private const double BeyondShare = 0.35;
    private const double MarginShare = 0.25;

    private Plan(Axis across, Axis up, IReadOnlyList<PlanPoint> points)
    {
        Across = across;
        Up = up;
        Points = points;
    }

    /// <summary>The axis from left to right: X, on a lathe Z.</summary>
    public Axis Across { get; }

    /// <summary>The axis from front to back: Y, on a lathe X.</summary>
    public Axis Up { get; }

    public IReadOnlyList<PlanPoint> Points { get; }

    public Stretch? TravelAcross { get; private init; }

    public Stretch? TravelUp { get; private init; }

    public Stretch BoxAcross { get; private init; }

    public Stretch BoxUp { get; private init; }

    /// <summary>Whether a common offset other than zero is in the places shown.</summary>
    public bool CommonAdded { get; private init; }

    /// <summary>The drawing of a setup; null where no datum has a place in both axes.</summary>
    public static Plan? Of(SetupReport report)
    {
        var (across, up) = report.Machine.IsLathe ? (Axis.Z, Axis.X) : (Axis.X, Axis.Y);
        var reader = new PlanReader(report, across, up);
        var points = reader.Points();
        if (points.Count == 0) return null;
        var travelAcross = Travel(report, across);
        var travelUp = Travel(report, up);
        // Without travel both axes get room for the longer of them, machine zero included: a picture of one place alone
        // says nothing.
        var least = points.SelectMany(point => new[] { point.Old, point.New }).OfType<(double H, double V)>()
            .Max(place => Math.Max(Math.Abs(place.H), Math.Abs(place.V)));
        return new Plan(across, up, points)
        {
            TravelAcross = travelAcross,
            TravelUp = travelUp,
            BoxAcross = Box(travelAcross, Places(points, place => place.H), least),
            BoxUp = Box(travelUp, Places(points, place => place.V), least),
            CommonAdded = reader.CommonAdded,
        };
    }

    private static IEnumerable<double> Places(
        IReadOnlyList<PlanPoint> points, Func<(double H, double V), double> axis) =>
        points.SelectMany(point => new[] { point.Old, point.New }).OfType<(double H, double V)>().Select(axis);

    private static Stretch? Travel(SetupReport report, Axis axis) =>
        report.Machine.Travel.TryGetValue(axis, out var bounds) && bounds.High > bounds.Low
            ? new Stretch((double)bounds.Low, (double)bounds.High)
            : null;

    private static Stretch Box(Stretch? travel, IEnumerable<double> places, double least)
    {
        if (travel is { } known)
        {
            var reach = known.Grown(known.Length * BeyondShare);
            return places.Where(reach.Holds).Aggregate(known, (box, place) => box.With(place));
        }
        var box = places.Aggregate(new Stretch(0, 0), (all, place) => all.With(place));
        var size = Math.Max(1, least);
        return box.Grown((size - box.Length) / 2 + size * MarginShare);
    }
}
