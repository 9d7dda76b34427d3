using SetupAudit.Evidence;

namespace SetupAudit.Reports;

/// <summary>What the report cannot know, what it does not replace, and how to check it.</summary>
internal static class LimitsSection
{
    private const int FilesMost = 30;

    public static void Write(Markup page, SetupReport report)
    {
        NotSeen(page, report);
        Cautions(page);
        HowToCheck(page, report);
        using var footer = page.In("footer");
        page.Text($"Made {Figures.Utc(report.MadeUtc)} by SetupAudit {report.Version}"
            + (report.AsOfUtc is { } asOf ? $" from evidence up to {Figures.Utc(asOf)}." : "."));
    }

    private static void NotSeen(Markup page, SetupReport report)
    {
        using var section = page.In("section", "limits");
        page.Put("h2", "What no source shows");
        using var list = page.In("ul");
        foreach (var item in Shapes.NotSeen.Always) page.Put("li", item);
        foreach (var source in report.Coverage)
            page.Put("li", $"{source.Source}: cannot tell {string.Join("; ", source.CannotTell)}"
                + (source.LastUtc is { } last
                    ? $" (last word {new Figures(report.Zone).Local(last)})"
                    : " (no word yet)"));
    }

    private static void Cautions(Markup page)
    {
        using var section = page.In("section", "cautions");
        page.Put("h2", "Before you cut");
        page.Put("p", "This report compares files. It has not seen the machine, the fixture or the part, "
            + "and replaces none of these:");
        using var list = page.In("ul");
        foreach (var item in new[]
        {
            "a dry run above the part, the datum raised by a known amount and put back",
            "the first part in single block, with reduced rapid and a hand on feed hold",
            "your shop's own rules, and the judgement of a qualified person at the machine",
        }) page.Put("li", item);
    }

    private static void HowToCheck(Markup page, SetupReport report)
    {
        var sources = Sources(report);
        if (sources.Count == 0) return;
        using var section = page.In("section", "check");
        page.Put("h2", "How to check this report");
        page.Put("p", "What was found, measured and changed here comes from these files. Where its cycles come from "
            + "stands in the .json of this report; 'setupaudit state' says where a value comes from that stood before. "
            + "Any public tool that computes SHA-256 (such as sha256sum) must give the same digits for the file as it "
            + "was kept.");
        foreach (var act in sources.Where(source => report.Dropped.ContainsKey(source.Sha256))
            .GroupBy(source => report.Dropped[source.Sha256]))
            page.Put("p", $"The bytes of {Figures.Count(act.Count(), "file", "files")} marked with a star were "
                + $"{act.Key}. What was derived from them stands as it is recorded.");
        using (page.In("table", "list hashes"))
        using (page.In("tbody"))
        {
            foreach (var (file, sha256) in sources.Take(FilesMost))
            {
                using var row = page.In("tr");
                page.Put("td", report.Dropped.ContainsKey(sha256) ? $"{file} *" : file);
                using var cell = page.In("td");
                page.Put("code", sha256);
            }
        }
        if (sources.Count > FilesMost)
            page.Put("p", $"The first {FilesMost} of {sources.Count} files; .json has all.", "beside");
    }

    /// <summary>The files that a setup rests on, by their names and bytes.</summary>
    public static IReadOnlyList<(string File, string Sha256)> Sources(SetupReport report)
    {
        var setup = report.Setup;
        var lines = setup.Findings.SelectMany(finding => finding.Evidence)
            .Concat(setup.Made.Where(change => !change.IsFirstSight)
                .Select(change => new SourceLine(change.File, change.Sha256, change.Line)))
            .Concat(setup.Measurements.Select(item => new SourceLine(item.File, item.Sha256, item.Line)))
            .Concat(setup.Head.Sheets.Select(sheet => sheet.Source));
        var texts = setup.Head.Texts.Where(text => text is { File: not null, Sha256: not null })
            .Select(text => (text.File ?? "", text.Sha256 ?? ""));
        return [.. lines.Select(line => (line.File, line.Sha256)).Concat(texts).Distinct()];
    }
}
