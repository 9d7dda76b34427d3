using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>What setup this is, and the one sentence that matters.</summary>
internal static class HeadSection
{
    public static void Write(Markup page, SetupReport report)
    {
        var head = report.Setup.Head;
        using var header = page.In("header");
        using (page.In("p", "eyebrow"))
        {
            page.Put("span", report.Shop);
            page.Put("span", "Setup audit");
        }
        using (page.In("h1"))
        {
            page.Text(head.Machine);
            page.Put("span", Title(head), "of");
        }
        Sentence(page, report);
        Facts(page, report, head);
    }

    private static string Title(SetupView head)
    {
        if (head.Programs.Count == 0) return "no program known";
        var first = head.Texts.FirstOrDefault(text => text.Title is not null && text.Program == head.Programs[0]);
        var name = first is null ? head.Programs[0] : $"{head.Programs[0]} {first.Title}";
        return head.Programs.Count == 1 ? name : $"{name} and {Figures.Count(head.Programs.Count - 1, "more", "more")}";
    }

    private static void Sentence(Markup page, SetupReport report)
    {
        var gravest = report.Setup.Findings.Select(finding => finding.Severity).DefaultIfEmpty(Severity.Note).Max();
        using var verdict = page.In("div", gravest >= Severity.High ? "verdict found" : "verdict");
        page.Put("p", Verdict.Of(report.Setup), "sentence");
        var worst = report.Setup.Findings.Where(finding => finding.Severity >= Severity.High)
            .OrderByDescending(finding => finding.Severity).FirstOrDefault();
        if (worst is not null) page.Put("p", worst.Message);
        else page.Put("p", "This is no proof that the setup is right: see what no source shows, and the cautions.");
    }

    private static void Facts(Markup page, SetupReport report, SetupView head)
    {
        var figures = new Figures(report.Zone);
        using var facts = page.In("dl", "facts");
        Fact(page, "Opened", figures.Local(head.OpenedUtc), Figures.Utc(head.OpenedUtc));
        if (head.ClosedUtc is { } closed) Fact(page, "Closed", figures.Local(closed), Figures.Utc(closed));
        else Fact(page, "Closed", "not yet", null);
        if (head.CuttingUtc is { } cutting) Fact(page, "Cutting began", figures.Local(cutting), Figures.Utc(cutting));
        else Fact(page, "Cutting began", "no cycle known", null);
        Fact(page, "Status", Word.Of(head.Status), StatusMeans(head));
        Fact(page, "Setter", head.Setter ?? "not told", null);
        if (head.Pallet is not null) Fact(page, "Pallet", head.Pallet, null);
        foreach (var program in head.Programs) Program(page, figures, program, head);
        foreach (var sheet in head.Sheets) Fact(page, "Setup sheet", sheet.Part ?? sheet.Program, sheet.Source.File);
        Fact(page, "Setup", head.Setup, $"all lengths in {Units.Length.ShortName(head.Unit)}");
        if (head.ClocksDisagree is { } clocks) Fact(page, "Clocks", "two sources disagree", clocks);
    }

    private static void Program(Markup page, Figures figures, string program, SetupView head)
    {
        var text = head.Texts.FirstOrDefault(use => use.Program == program);
        var title = text?.Title is { } known ? $"{program} {known}" : program;
        Fact(page, "Program", title, text switch
        {
            { File: null } or null => "its text has not been read",
            { ModifiedUtc: { } modified } => $"text of {figures.Local(modified)}"
                + (text.Later ? ", first read after this setup" : "")
                + (text.ByLookback ? ", taken by its file's time: no print-out named it" : ""),
            _ => text.File,
        });
    }

    private static string StatusMeans(SetupView head) => head.Status switch
    {
        SetupStatus.Open => "still going on",
        SetupStatus.Settled => "nothing of weight found, not reviewed",
        SetupStatus.Queried when head.Review?.Doubt is { } doubt => $"reviewed, and queried again: {doubt}",
        SetupStatus.Queried => "findings stand against it",
        _ => head.Review is { Signed: true } ? "reviewed and signed" : "reviewed, by a name that nobody proved",
    };

    private static void Fact(Markup page, string name, string value, string? beside)
    {
        using var fact = page.In("div");
        page.Put("dt", name);
        using var text = page.In("dd");
        page.Text(value);
        if (beside is not null) page.Put("span", beside, "beside");
    }
}
