using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>
/// The findings, gravest first, each with what was expected, what may be behind it, and its evidence quoted.
/// </summary>
internal static class FindingsSection
{
    private const int EvidenceMost = 8;
    private const int QuoteMost = 160;
    private const int BarWidth = 96;

    public static void Write(Markup page, SetupReport report)
    {
        var findings = report.Setup.Findings.OrderByDescending(finding => finding.Severity)
            .ThenBy(finding => finding.AtUtc).ThenBy(finding => finding.Finding, StringComparer.Ordinal).ToList();
        using var section = page.In("section", "findings");
        page.Put("h2", "Findings");
        if (findings.Count == 0)
            page.Put("p", "None. No rule that could be judged on what the sources show holds for this setup.", "quiet");
        foreach (var finding in findings) Finding(page, report, finding);
    }

    private static void Finding(Markup page, SetupReport report, FindingView finding)
    {
        using var article = page.In("article", finding.Severity >= Severity.High ? "finding grave" : "finding");
        using (page.In("p", "weight"))
        {
            page.Put("b", Word.Of(finding.Severity).ToUpperInvariant());
            page.Put("span", finding.Rule);
        }
        using var text = page.In("div");
        page.Put("p", finding.Message, "message");
        page.Put("p", Beside(report, finding), "beside");
        if (finding.Causes.Count > 0) Causes(page, finding);
        if (finding.Evidence.Count > 0) Evidence(page, report, finding.Evidence);
    }

    private static string Beside(SetupReport report, FindingView finding)
    {
        var parts = new List<string> { $"from {new Figures(report.Zone).Local(finding.AtUtc)}" };
        if (finding.Value is { } value && finding.Unit is { } unit) parts.Add($"found {Figures.WithUnit(value, unit)}");
        if (finding.Expected is { } expected)
            parts.Add($"{Expected(finding)} {Figures.Number(expected)}{Unit(finding.Unit)}");
        if (finding.ExpectedRange is { } range)
            parts.Add($"expected {Figures.Number(range.Low)} to {Figures.Number(range.High)}{Unit(finding.Unit)}");
        return string.Join(" · ", parts);
    }

    // What a limit allows is nothing that anyone expected.
    private static string Expected(FindingView finding) => finding.Rule == "over-limit" ? "limit" : "expected";

    private static string Unit(Unit? unit) => unit is { } known ? " " + Length.ShortName(known) : "";

    private static void Causes(Markup page, FindingView finding)
    {
        using var table = page.In("table", "causes");
        page.Put("caption", "What may be behind it: an estimate, no finding of cause and no blame");
        foreach (var cause in finding.Causes.OrderByDescending(cause => cause.Probability)
            .ThenBy(cause => cause.Name, StringComparer.Ordinal)) Cause(page, cause);
    }

    private static void Cause(Markup page, Cause cause)
    {
        using var row = page.In("tr");
        page.Put("th", cause.Name.Replace('-', ' '));
        page.Put("td", cause.Probability.ToString("0%", CultureInfo.InvariantCulture), "number");
        using (page.In("td"))
        using (page.In("svg", "bar", ("width", Whole(BarWidth)), ("height", "8"), ("aria-hidden", "true")))
        {
            page.Mark("rect", "bar-all", ("width", Whole(BarWidth)), ("height", "8"));
            page.Mark("rect", "bar-part", ("width", Whole((int)(BarWidth * cause.Probability))), ("height", "8"));
        }
        page.Put("td", cause.Because);
    }

    private static void Evidence(Markup page, SetupReport report, IReadOnlyList<SourceLine> evidence)
    {
        using var list = page.In("ul", "evidence");
        foreach (var source in evidence.Take(EvidenceMost)) Line(page, report, source);
        if (evidence.Count > EvidenceMost)
            page.Put("li", $"and {Figures.Count(evidence.Count - EvidenceMost, "line", "lines")} more");
    }

    private static void Line(Markup page, SetupReport report, SourceLine source)
    {
        using var item = page.In("li");
        page.Put("code", report.Quote(source) is { } text
            ? VisibleText.Of(text, QuoteMost)
            : "(its bytes are not at hand)");
        page.Put("span", Where(source), "where");
    }

    public static string Where(SourceLine source) => source.Line > 0
        ? string.Create(CultureInfo.InvariantCulture, $"{source.File}, line {source.Line}")
        : source.File;

    private static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);
}
