
namespace SetupAudit.Reports;

/// <summary>Draws a plan: travel, stock, datums with their labels, scale and directions.</summary>
internal sealed class PlanDrawing(Pen pen, Plan plan, double scale, double left, double top)
{
    private const double LabelAside = 26;
    private const double SmallGap = 12;

    private double Right => left + plan.BoxAcross.Length * scale;

    private double Bottom => top + plan.BoxUp.Length * scale;

    private double X(double h) => left + (plan.BoxAcross.Clamp(h) - plan.BoxAcross.Low) * scale;

    private double Y(double v) => top + (plan.BoxUp.High - plan.BoxUp.Clamp(v)) * scale;

    public void Draw(string unit)
    {
        Table();
        foreach (var point in plan.Points) Stock(point);
        foreach (var point in plan.Points) Datum(point);
        Labels();
        Ends();
        Foot(unit);
    }

    private void Table()
    {
        var across = plan.TravelAcross ?? plan.BoxAcross;
        var up = plan.TravelUp ?? plan.BoxUp;
        var css = plan.TravelAcross is null || plan.TravelUp is null ? "table open" : "table";
        pen.Box(css, X(across.Low), Y(up.High), across.Length * scale, up.Length * scale);
        if (!across.Holds(0) || !up.Holds(0)) return;
        pen.Cross("zero", X(0), Y(0), 5, 0);
        if (plan.TravelAcross is null) pen.Text("tick", X(0) - 8, Y(0) + 12, "machine zero", "end");
    }

    private void Stock(PlanPoint point)
    {
        if (point.Stock is not { } stock) return;
        var (x, y) = (X(stock.H.Low), Y(stock.V.High));
        pen.Box("stock", x, y, X(stock.H.High) - x, Y(stock.V.Low) - y);
    }

    private void Datum(PlanPoint point)
    {
        if (point.Old is { } old) pen.Disc("old", X(old.H), Y(old.V), 4);
        if (point is { Set: true, New: { } now })
        {
            if (point.Old is { } from) pen.Line("move", X(from.H), Y(from.V), X(now.H), Y(now.V));
            pen.Cross("new", X(now.H), Y(now.V), 9, point.Turned);
            pen.Disc("new", X(now.H), Y(now.V), 3);
        }
        else if (point is { Old: null, New: { } kept }) pen.Disc("old", X(kept.H), Y(kept.V), 4);
    }

    private void Labels()
    {
        var shown = plan.Points.Take(LabelStack.Room(top, Bottom + 4)).ToList();
        var gap = LabelStack.Gap(shown.Count, top, Bottom + 4);
        var places = shown.Select(point => point.Shown ?? default).ToList();
        var heights = LabelStack.Spread([.. places.Select(place => Y(place.V))], gap, Bottom + 4);
        for (var index = 0; index < shown.Count; index++)
        {
            var (x, y) = (X(places[index].H), Y(places[index].V));
            pen.Leader(x + 5, y, Right + 8, heights[index], Right + LabelAside - 3);
            pen.Text(gap < SmallGap ? "name small" : "name", Right + LabelAside, heights[index] + 3.5,
                shown[index].Name + Note(shown[index]));
        }
        if (plan.Points.Count > shown.Count)
            pen.Text("tick", Right + LabelAside, Bottom + 16, $"and {plan.Points.Count - shown.Count} more");
    }

    private string Note(PlanPoint point)
    {
        if (point.Shown is { } place && !(plan.BoxAcross.Holds(place.H) && plan.BoxUp.Holds(place.V)))
            return " beyond here";
        return point.Set ? "" : " not moved";
    }

    private void Ends()
    {
        if (plan.TravelAcross is not { } across || plan.TravelUp is not { } up) return;
        pen.Text("tick", X(across.Low), Bottom + 13, Figure(across.Low));
        pen.Text("tick", X(across.High), Bottom + 13, Figure(across.High), "end");
        pen.Text("tick", left - 6, Y(up.High) + 8, Figure(up.High), "end");
        pen.Text("tick", left - 6, Y(up.Low), Figure(up.Low), "end");
        pen.Text("side", (left + Right) / 2, Bottom + 13, "front", "middle");
    }

    private void Foot(string unit)
    {
        var length = Pen.Round(plan.BoxAcross.Length * 0.25);
        var y = Bottom + 36;
        pen.Scale(left, y, length * scale);
        pen.Text("tick", left + length * scale + 8, y + 3.5, $"{Pen.Length(length)} {unit}");
        var corner = Right - 64;
        pen.Arrow("axis", corner, y + 8, corner + 26, y + 8);
        pen.Arrow("axis", corner, y + 8, corner, y - 18);
        pen.Text("tick", corner + 30, y + 11.5, $"+{plan.Across}");
        pen.Text("tick", corner + 5, y - 12, $"+{plan.Up}");
    }

    private static string Figure(double value) => Figures.Number((decimal)value);
}
