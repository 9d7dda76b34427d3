namespace SetupAudit.Reports;

/// <summary>Moves too small for the plan, each enlarged with a scale of its own.</summary>
internal static class DetailPanels
{
    private const int Most = 4;
    private const double PanelWidth = 168;
    private const double PanelHeight = 128;
    private const double Gap = 16;
    private const double VisiblePx = 16;
    private const double MovePx = 52;

    public static void Write(Markup page, Plan plan, double scale, string unit)
    {
        var small = plan.Points
            .Where(point => point is { Set: true, Moved: > 0 } && point.Moved * scale < VisiblePx).ToList();
        if (small.Count == 0) return;
        using (PictureSection.Drawing(page, "Small moves enlarged", PanelHeight + 4))
        {
            var pen = new Pen(page);
            for (var index = 0; index < Math.Min(Most, small.Count); index++)
                Panel(pen, plan, small[index], 2 + index * (PanelWidth + Gap), unit);
        }
        if (small.Count > Most)
            page.Put("p", $"{small.Count - Most} more small moves are not enlarged; the table above has them.",
                "beside");
    }

    private static void Panel(Pen pen, Plan plan, PlanPoint point, double left, string unit)
    {
        if (point is not { Old: { } old, New: { } now }) return;
        var scale = MovePx / point.Moved;
        var (middleX, middleY) = (left + PanelWidth / 2, 2 + PanelHeight / 2);
        var (dx, dy) = ((now.H - old.H) / 2 * scale, (now.V - old.V) / 2 * scale);
        pen.Box("panel", left, 2, PanelWidth, PanelHeight);
        pen.Disc("old", middleX - dx, middleY + dy, 5);
        pen.Arrow("move", middleX - dx, middleY + dy, middleX + dx * 0.86, middleY - dy * 0.86);
        pen.Cross("new", middleX + dx, middleY - dy, 11, point.Turned);
        pen.Disc("new", middleX + dx, middleY - dy, 3.5);
        pen.Text("name", left + 8, 17, $"{point.Name} enlarged");
        var length = Pen.Round(36 / scale);
        pen.Scale(left + 8, PanelHeight - 9, length * scale);
        pen.Text("tick", left + 14 + length * scale, PanelHeight - 5.5, $"{Pen.Length(length)} {unit}");
        pen.Text("tick", left + PanelWidth - 8, PanelHeight - 5.5,
            $"{plan.Across} {Signed(now.H - old.H)}  {plan.Up} {Signed(now.V - old.V)}", "end");
    }

    private static string Signed(double value) => Figures.Signed((decimal)Math.Round(value, 6));
}
