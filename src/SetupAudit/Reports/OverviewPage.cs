using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>
/// The first page: a list to get to a setup's report by. Like a report it has no script, loads nothing, and never says
/// that anything is in order.
/// </summary>
public static class OverviewPage
{
    private const int FindingsMost = 5;

    public static string Of(ShopOverview overview) => Markup.Page(page =>
    {
        page.Own("<!DOCTYPE html>\n");
        using var html = page.In("html", null, ("lang", "en"));
        HtmlReport.Head(page, $"Setups of {overview.Shop}");
        using var body = page.In("body");
        using var sheet = page.In("main");
        Top(page, overview);
        var figures = new Figures(overview.Zone);
        foreach (var machine in overview.Machines) Machine(page, figures, machine);
        Bottom(page, overview);
    });

    /// <summary>
    /// Where the report of a setup is, below the page's address; relative, for a door in between may put the page below
    /// an address of its own.
    /// </summary>
    public static string PathOf(string setup) =>
        "setups/" + Uri.EscapeDataString(setup).Replace("%40", "@", StringComparison.Ordinal);

    private static void Top(Markup page, ShopOverview overview)
    {
        using var header = page.In("header");
        using (page.In("p", "eyebrow"))
        {
            page.Put("span", overview.Shop);
            page.Put("span", "Setup audit");
        }
        page.Put("h1", "Machines and their last setups");
        if (overview.Fault is { } fault) page.Put("p", fault, "message");
    }

    private static void Machine(Markup page, Figures figures, MachineOverview machine)
    {
        using var section = page.In("section");
        // A name is shown as it is written: capitals are another machine's.
        page.Put("h2", machine.Machine, "name");
        page.Put("p", machine.HorizonUtc is { } horizon
            ? $"Its sources were read up to {figures.Local(horizon)}."
            : "Its sources have not been read to their end yet.", "beside");
        foreach (var unread in machine.Unread) page.Put("p", unread, "message");
        if (machine.Setups.Count == 0) page.Put("p", "No setup is known.", "quiet");
        if (machine.Setups.Count == 0) return;
        Setups(page, figures, machine);
        foreach (var finding in Gravest(machine)) Finding(page, figures, finding);
    }

    private static void Setups(Markup page, Figures figures, MachineOverview machine)
    {
        using var table = page.In("table", "list");
        using (page.In("thead"))
        using (page.In("tr"))
        {
            foreach (var heading in (string[])["setup opened", "programs", "status", "findings"])
                page.Put("th", heading);
        }
        using var rows = page.In("tbody");
        foreach (var setup in machine.Setups)
        {
            using var row = page.In("tr");
            using (page.In("td"))
            using (page.In("a", null, ("href", PathOf(setup.Setup))))
                page.Text(figures.Local(setup.OpenedUtc));
            page.Put("td", setup.Programs.Count == 0 ? "none known" : string.Join(", ", setup.Programs));
            page.Put("td", Word.Of(setup.Status));
            page.Put("td", Count(setup, machine.Findings.Where(finding => finding.Setup == setup.Setup).ToList()));
        }
    }

    private static string Count(SetupView setup, List<FindingView> findings) => findings.Count == 0
        ? setup.Status == SetupStatus.Open ? "none so far" : "none"
        : $"{findings.Count}, the gravest {Word.Of(findings.Max(finding => finding.Severity))}";

    // Of the newest setup only: what stands against the others is behind their links.
    private static IEnumerable<FindingView> Gravest(MachineOverview machine) => machine.Findings
        .Where(finding => finding.Severity >= Severity.High && finding.Setup == machine.Setups[0].Setup)
        .OrderByDescending(finding => finding.Severity).ThenBy(finding => finding.AtUtc)
        .ThenBy(finding => finding.Finding, StringComparer.Ordinal).Take(FindingsMost);

    private static void Finding(Markup page, Figures figures, FindingView finding)
    {
        using var article = page.In("article", "finding grave");
        using (page.In("p", "weight"))
        {
            page.Put("b", Word.Of(finding.Severity).ToUpperInvariant());
            page.Put("span", finding.Rule);
        }
        using var text = page.In("div");
        page.Put("p", finding.Message, "message");
        page.Put("p", $"from {figures.Local(finding.AtUtc)}", "beside");
    }

    private static void Bottom(Markup page, ShopOverview overview)
    {
        using var footer = page.In("footer");
        page.Put("p", "This is worked out from files and may be wrong or incomplete. It replaces no dry run above the "
            + "part, no first part in single block with reduced rapid, and no rule of your shop.");
        page.Put("p", $"Made {Figures.Utc(overview.MadeUtc)} by SetupAudit {overview.Version}; times are in "
            + $"{overview.Zone.Id}. Load the page again to see what came since.");
    }
}
