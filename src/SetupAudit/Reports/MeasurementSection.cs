using SetupAudit.Shapes;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>Sizes, angles and positions that print-outs say were measured.</summary>
internal static class MeasurementSection
{
    private const int Most = 60;

    public static void Write(Markup page, SetupReport report)
    {
        var all = report.Setup.Measurements;
        if (all.Count == 0) return;
        using var section = page.In("section", "measurements");
        page.Put("h2", "Measurements");
        using (page.In("table", "list"))
        {
            using (page.In("thead"))
            using (page.In("tr"))
            {
                foreach (var name in new[] { "At", "Feature", "Register" }) page.Put("th", name);
                foreach (var name in new[] { "Measured", "Nominal", "Off by", "Allowed" })
                    page.Put("th", name, "number");
            }
            using var body = page.In("tbody");
            foreach (var measurement in all.Take(Most)) Row(page, report, measurement);
        }
        if (all.Count > Most) page.Put("p", $"The first {Most} of {all.Count}; .json and .csv have all.", "beside");
    }

    private static void Row(Markup page, SetupReport report, MeasurementView item)
    {
        using var row = page.In("tr", IsOut(item) ? "out" : null);
        page.Put("td", new Figures(report.Zone).LocalShort(item.AtUtc));
        page.Put("td", item.Feature ?? "");
        page.Put("td", item.Register?.ToString() ?? "");
        page.Put("td", Measured(item), "number");
        page.Put("td", item.Nominal is { } nominal ? Figures.Number(nominal) : "", "number");
        page.Put("td", item.Deviation is { } deviation ? Figures.Signed(deviation) : "", "number");
        page.Put("td", Allowed(item), "number");
    }

    private static string Measured(MeasurementView item)
    {
        var parts = new List<string>();
        if (item.Size is { } size) parts.Add(Figures.Number(size));
        if (item.Angle is { } angle) parts.Add(Figures.WithUnit(angle, Unit.Degree));
        foreach (var (name, value) in new[] { ("X", item.X), ("Y", item.Y), ("Z", item.Z) })
            if (value is { } known) parts.Add($"{name} {Figures.Number(known)}");
        return string.Join(", ", parts);
    }

    private static string Allowed(MeasurementView item) => (item.Low, item.High) switch
    {
        ({ } low, { } high) => $"{Figures.Number(low)} to {Figures.Number(high)}",
        ({ } low, null) => $"from {Figures.Number(low)}",
        (null, { } high) => $"up to {Figures.Number(high)}",
        _ => "",
    } + (IsOut(item) ? " (outside)" : "");

    private static bool IsOut(MeasurementView item) => (item.Size ?? item.Angle) is { } value
        && ((item.Low is { } low && value < low) || (item.High is { } high && value > high));
}
