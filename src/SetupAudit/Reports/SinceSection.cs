using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>What ran under the setup, and what was trimmed while it ran. Long lists are cut and say so.</summary>
internal static class SinceSection
{
    private const int AdjustmentMost = 40;
    private const int CycleMost = 40;

    public static void Write(Markup page, SetupReport report)
    {
        Adjustments(page, report, [.. report.Setup.Adjustments]);
        Cycles(page, report);
    }

    private static void Adjustments(Markup page, SetupReport report, IReadOnlyList<ChangeView> all)
    {
        if (all.Count == 0) return;
        var figures = new Figures(report.Zone);
        using var section = page.In("section", "adjustments");
        page.Put("h2", "Adjusted since");
        using (page.In("table", "list"))
        {
            Heading(page, ["By", "What", "How"], ["Before", "After", "Moved"]);
            using var body = page.In("tbody");
            foreach (var change in all.Take(AdjustmentMost))
            {
                using var row = page.In("tr");
                page.Put("td", figures.LocalShort(change.ToUtc));
                page.Put("td", What(change.Key));
                page.Put("td", DatumSection.ByWord(change.By));
                page.Put("td", Figures.Number(change.Before), "number");
                page.Put("td", Figures.Number(change.After), "number");
                page.Put("td", Moved(change), "number");
            }
        }
        More(page, all.Count, AdjustmentMost, "adjustments");
    }

    private static void Cycles(Markup page, SetupReport report)
    {
        var all = report.Setup.Cycles;
        if (all.Count == 0) return;
        var figures = new Figures(report.Zone);
        using var section = page.In("section", "cycles");
        page.Put("h2", "Cycles under this setup");
        page.Put("p", Sum(all), "beside");
        using (page.In("table", "list"))
        {
            Heading(page, ["Start", "End", "Program", "Ended", "Part"], []);
            using var body = page.In("tbody");
            foreach (var cycle in all.Take(CycleMost))
            {
                using var row = page.In("tr");
                page.Put("td", figures.LocalShort(cycle.StartUtc));
                page.Put("td", cycle.EndUtc is { } end ? figures.LocalShort(end) : "not told");
                page.Put("td", cycle.Program ?? "not told");
                page.Put("td", Ended(cycle));
                page.Put("td", Part(cycle));
            }
        }
        More(page, all.Count, CycleMost, "cycles");
    }

    private static void Heading(Markup page, string[] texts, string[] numbers)
    {
        using var head = page.In("thead");
        using var row = page.In("tr");
        foreach (var name in texts) page.Put("th", name);
        foreach (var name in numbers) page.Put("th", name, "number");
    }

    private static string Sum(IReadOnlyList<CycleView> all)
    {
        var finished = all.Count(cycle => cycle.Ended == CycleEnding.Finished);
        var aborted = all.Count(cycle => cycle.Ended == CycleEnding.Aborted);
        return $"{Figures.Count(all.Count, "cycle", "cycles")}: {finished} ran to the end, {aborted} broken off, "
            + $"{all.Count - finished - aborted} ended unseen.";
    }

    private static string Ended(CycleView cycle) => (cycle.Ended switch
    {
        CycleEnding.Finished => "ran to its end",
        CycleEnding.Aborted => "broken off",
        _ => "unseen",
    }) + (cycle.UnderLift ? ", with Z raised" : "");

    private static string Part(CycleView cycle) => string.Join(", ", new[] { cycle.Part, cycle.Serial, cycle.Order,
        cycle.Pallet is null ? null : $"pallet {cycle.Pallet}" }.OfType<string>());

    private static string What(OffsetKey key) => key.IsTool
        ? $"T{key.Tool} {ToolPartName.Of(key.Part).Replace('-', ' ')}"
        : $"{key.Register} {key.Axis}";

    private static string Moved(ChangeView change) =>
        change.Delta is { } delta ? $"{Figures.Signed(delta)} {Length.ShortName(change.Unit)}" : "";

    private static void More(Markup page, int count, int most, string what)
    {
        if (count > most) page.Put("p", $"The first {most} of {count} {what}; .json has all.", "beside");
    }
}
