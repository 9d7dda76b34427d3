using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Shapes;

namespace SetupAudit.Reports;

/// <summary>Tools that the setup moved or its programs call, part by part.</summary>
internal static class ToolSection
{
    public static void Write(Markup page, SetupReport report)
    {
        if (report.Setup.Head.Tools.Count == 0) return;
        using var section = page.In("section", "tools");
        page.Put("h2", "Tools");
        using var table = page.In("table", "list");
        using (page.In("thead"))
        using (page.In("tr"))
        {
            foreach (var (name, css) in new (string, string?)[] { ("Tool", null), ("Part", null), ("State", null),
                ("Before", "number"), ("After", "number"), ("Moved", "number"), ("Program", null) })
                page.Put("th", name, css);
        }
        using var body = page.In("tbody");
        foreach (var tool in report.Setup.Head.Tools) Tool(page, tool);
    }

    private static void Tool(Markup page, ToolView tool)
    {
        for (var index = 0; index < tool.Parts.Count; index++)
        {
            var (part, value) = tool.Parts[index];
            using var row = page.In("tr", index == 0 ? "first" : null);
            page.Put("th", index == 0 ? string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}") : "");
            page.Put("td", ToolPartName.Of(part).Replace('-', ' '));
            State(page, value);
            page.Put("td", Figures.Number(value.Before), "number");
            page.Put("td", Figures.Number(value.After), "number");
            page.Put("td", value.Set && value.Delta is { } delta ? Figures.Signed(delta) : "", "number");
            page.Put("td", index > 0 ? "" : Called(tool.Called));
        }
    }

    private static void State(Markup page, OffsetView value)
    {
        var mark = AxisMarks.Of(value);
        using var cell = page.In("td");
        DatumSection.Sign(page, mark);
        page.Text(" " + AxisMarks.Word(mark) + (value.By is { } by ? ", " + DatumSection.ByWord(by) : ""));
    }

    private static string Called(bool? called) => called switch
    {
        true => "called",
        false => "not called",
        _ => "not known",
    };
}
