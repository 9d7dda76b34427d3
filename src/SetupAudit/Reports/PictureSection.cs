using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>The table from above, to scale, with each datum where it was and where it is, and Z beside it.</summary>
internal static class PictureSection
{
    public const double Width = 720;
    private const double Left = 52;
    private const double Top = 16;
    private const double PlanWidth = 400;
    private const double PlanHeight = 330;
    private const double Below = 58;

    public static void Write(Markup page, SetupReport report)
    {
        if (Plan.Of(report) is not { } plan) return;
        var strip = HeightStrip.Of(report);
        var scale = Math.Min(PlanWidth / plan.BoxAcross.Length, PlanHeight / plan.BoxUp.Length);
        if (strip is not null) scale = Math.Min(scale, PlanHeight / strip.Box.Length);
        var planHeight = plan.BoxUp.Length * scale;
        var height = Math.Max(planHeight, (strip?.Box.Length ?? 0) * scale);
        using var section = page.In("section", "picture");
        page.Put("h2", report.Machine.IsLathe ? "The datums to scale" : "The table from above");
        using (Drawing(page, "The table from above with old and new datums, to scale", Top + height + Below))
        {
            var pen = new Pen(page);
            new PlanDrawing(pen, plan, scale, Left, Top).Draw(Length.ShortName(report.Setup.Head.Unit));
            strip?.Draw(pen, scale, Width - 118, Top);
        }
        DetailPanels.Write(page, plan, scale, Length.ShortName(report.Setup.Head.Unit));
        Caption(page, report, plan, strip is not null);
    }

    public static Markup.Opened Drawing(Markup page, string label, double height) => page.In("svg", "drawing",
        ("viewBox", $"0 0 {Pen.Of(Width)} {Pen.Of(height)}"), ("role", "img"), ("aria-label", label));

    private static void Caption(Markup page, SetupReport report, Plan plan, bool withHeights)
    {
        var parts = new List<string>
        {
            $"Machine coordinates, {plan.Across} to the right, {plan.Up} to the back.",
            "Full disc: the datum as it was left. Ring: where it was before. A ring alone was not moved.",
        };
        if (withHeights) parts.Add("Z stands beside it at the same scale.");
        if (plan.CommonAdded) parts.Add("The common offset is added.");
        if (plan.Points.Any(point => point.Stock is not null))
            parts.Add("Shaded: the stock as the setup sheet gives it.");
        if (plan.TravelAcross is null || plan.TravelUp is null) parts.Add("The machine's travel is not configured.");
        var without = report.Setup.Head.Registers.Where(view => view.Register is { IsCommon: false, IsG92: false })
            .Select(view => view.Register).Except(plan.Points.Select(point => point.Register.Register)).ToList();
        if (without.Count > 0)
            parts.Add($"Not drawn, their place is not known: {string.Join(", ", without.Select(Name))}.");
        page.Put("p", string.Join(" ", parts), "beside");
    }

    private static string Name(Register register) => register.ToString();
}
