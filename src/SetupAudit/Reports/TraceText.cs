using System.Globalization;
using System.Text;
using SetupAudit.Findings;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Tracing;

namespace SetupAudit.Reports;

/// <summary>A trace as a page for a containment meeting, and its suspect cycles as a table.</summary>
public static class TraceText
{
    /// <summary>Plain text, ready to print and sign.</summary>
    public static string Page(TraceView trace, ShopConfig shop, PartError part, string unit)
    {
        var page = new StringBuilder();
        var clock = new WallClock(shop);
        Line(page, $"{shop.Name}: trace of a bad part, {trace.Machine}, cut {clock.Time(trace.AtUtc)}");
        Line(page, $"Times are those of {shop.TimeZone}; the cut was at {Word.Of(trace.AtUtc)}, which is how "
            + "--json and --csv have it");
        Line(page, $"Error (measured minus nominal): {Errors(part)}; standard uncertainty {Rounded(part)}, in {unit}");
        Line(page, "");
        WriteChanges(page, trace, clock);
        WriteWindow(page, trace, clock);
        foreach (var sentence in trace.NotRecorded) Line(page, $"Not recorded: {sentence}.");
        if (trace.FoundWithout.Count > 0) Line(page, UnreadSource.Sentence(trace.FoundWithout, shop));
        Line(page, "");
        Line(page, "This is an estimate from what files say: no finding of root cause, and no blame. A list of");
        Line(page, "cycles is never an all-clear for the parts that are not on it. Local containment rules and");
        Line(page, "qualified people decide.");
        Line(page, "");
        Line(page, "Name ____________________   Date ____________   Signature ____________________");
        return page.ToString();
    }

    /// <summary>The cycles in the window (RFC 4180).</summary>
    public static string Csv(TraceView trace)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var table = new CsvTable(text, ["exposure", "program", "start", "end", "ended", "part", "serial", "pallet"]);
        foreach (var (cycle, certain) in trace.Cycles)
            table.Row(
            [
                certain ? "under" : "maybe", cycle.Program, Word.Of(cycle.StartUtc),
                cycle.EndUtc is { } end ? Word.Of(end) : null, Word.Of(cycle.Ended), cycle.Part, cycle.Serial,
                    cycle.Pallet,
            ]);
        return text.ToString();
    }

    private static void WriteChanges(StringBuilder page, TraceView trace, WallClock clock)
    {
        if (trace.Unexplained)
        {
            var unseen = Percent(trace.UnexplainedProbability);
            Line(page, $"NOTHING RECORDED EXPLAINS THIS (probability of something no source shows: {unseen}).");
            if (trace.Changes.Count > 0) Line(page, "What comes nearest:");
        }
        foreach (var change in trace.Changes.Take(6))
        {
            Line(page, $"  {Percent(change.Probability),5}  {VisibleText.Of(change.Because)}");
            Line(page, $"         {Made(change, clock)}");
        }
        var more = trace.Changes.Count - 6;
        if (more > 0) Line(page, $"  and {more} less likely ones (--json lists them)");
        Line(page, "");
    }

    // Where it can be looked up: when, by what, and the line of evidence.
    private static string Made(TracedChangeView change, WallClock clock)
    {
        if (change is not { ToUtc: { } to, Source: { } source }) return "no change is recorded: it stood from before";
        var between = change.FromUtc is { } from && from != to ? $"between {clock.Time(from)} and " : "by ";
        return VisibleText.Of($"changed {between}{clock.Time(to)}, {DatumSection.ByWord(change.By ?? default)}; "
            + $"{FindingsSection.Where(source)}; change {change.Change}");
    }

    private static void WriteWindow(StringBuilder page, TraceView trace, WallClock clock)
    {
        if (trace.FromUtc is not { } from || trace.ToUtc is not { } to) return;
        Line(page, $"Suspect production: {clock.Time(from)} to {clock.Time(to)}");
        Line(page, trace.CyclesKnown switch
        {
            "none" => "No source tells cycles: which parts ran in this time is NOT KNOWN. This is no all-clear.",
            "some" => $"{Counted(trace)} (the sources tell cycles only in part: there may be more)",
            _ => Counted(trace),
        });
        foreach (var (cycle, certain) in trace.Cycles)
            Line(page, $"  {(certain ? "under" : "maybe")}  {Ran(cycle, clock)}  {Word.Of(cycle.Ended)}");
        Line(page, $"Last good before: {(trace.LastGood is { } last ? Ran(last, clock) : "none known")}");
        Line(page, $"First after:      {(trace.FirstAfter is { } first ? Ran(first, clock) : "none known")}");
    }

    private static string Counted(TraceView trace)
    {
        var certain = trace.Cycles.Count(item => item.Certain);
        return $"{Figures.Count(certain, "cycle", "cycles")} certainly under it, {trace.Cycles.Count - certain} maybe:";
    }

    private static string Ran(CycleView cycle, WallClock clock) => $"{clock.Time(cycle.StartUtc)}  {Named(cycle)}";

    private static string Named(CycleView cycle)
    {
        var parts = new[] { cycle.Program, Labelled("serial", cycle.Serial), Labelled("part", cycle.Part),
            Labelled("pallet", cycle.Pallet) };
        return VisibleText.Of(string.Join(", ", parts.OfType<string>()));
    }

    private static string? Labelled(string label, string? value) => value is null ? null : $"{label} {value}";

    private static string Errors(PartError part)
    {
        var errors = part.ByAxis.Select(item => $"{item.Key} {Plain(item.Value)}").ToList();
        if (part.Diameter is { } diameter) errors.Add(
            $"diameter {Plain(diameter)} ({(part.Inside ? "inside" : "outside")})");
        return string.Join(", ", errors);
    }

    private static string Rounded(PartError part) => part.Uncertainty.ToString("0.#####", CultureInfo.InvariantCulture);

    private static string Plain(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Percent(decimal probability) =>
        (probability * 100).ToString("0", CultureInfo.InvariantCulture) + " %";

    private static void Line(StringBuilder page, string text) => page.Append(text).Append('\n');
}
