using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>
/// The one sentence at the top. It never says that a setup is in order: only what was found, or that nothing was.
/// </summary>
public static class Verdict
{
    public static string Of(SetupDocument setup)
    {
        var stops = setup.Findings.Count(finding => finding.Severity == Severity.Stop);
        var highs = setup.Findings.Count(finding => finding.Severity == Severity.High);
        if (stops > 0 && setup.Head.ClosedUtc is not null)
            return $"Look before you rely on this setup, or on parts cut in it: {Things(stops, highs)}.";
        if (stops > 0)
            return $"Do not cut before you have looked: {Things(stops, highs)}.";
        if (highs > 0)
            return $"Look before you rely on this setup: {Things(stops, highs)}.";
        return setup.Head.Status == SetupStatus.Open
            ? "Nothing found so far; this setup is still going on and not all rules have been judged."
            : "Nothing of weight found in what the sources show.";
    }

    private static string Things(int stops, int highs) => (stops, highs) switch
    {
        (0, _) => Figures.Count(highs, "finding weighs high", "findings weigh high"),
        (_, 0) => Figures.Count(stops, "finding says stop", "findings say stop"),
        _ => $"{Figures.Count(stops, "finding says stop", "findings say stop")} and "
            + Figures.Count(highs, "weighs high", "weigh high"),
    };
}
