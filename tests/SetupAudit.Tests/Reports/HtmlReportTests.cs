using System.Security.Cryptography;
using System.Text;
using System.Xml.Linq;
using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Reports;

public sealed class HtmlReportTests
{
    private const string Hostile = "</style><script>alert(1)</script><img src=x onerror=alert(2)>\"'&\u001b[31m\u202E";

    [Fact]
    public void A_report_of_a_made_up_setup_is_the_page_that_was_accepted() =>
        Snapshot.Holds(HtmlReport.Of(MadeUp.Report()), "html");

    [Fact]
    public void A_report_is_well_formed_and_loads_nothing()
    {
        var page = HtmlReport.Of(MadeUp.Report());

        Assert.DoesNotContain(Tags(page), tag => tag is "script" or "link" or "img" or "iframe" or "object");
        Assert.DoesNotContain("http:", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https:", page, StringComparison.Ordinal);
        Assert.DoesNotContain("url(", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Hostile_names_stay_text_wherever_they_stand()
    {
        var page = HtmlReport.Of(HostileReport());

        Assert.DoesNotContain(Tags(page), tag => tag is "script" or "img");
        Assert.Single(Tags(page), tag => tag == "style");
        Assert.DoesNotContain("onerror", Attributes(page));
        Assert.DoesNotContain(page, letter => letter is '\u001b' or '\u202E');
        Assert.Contains("<U+202E>", Text(page), StringComparison.Ordinal);
    }

    [Fact]
    public void The_policy_allows_the_style_sheet_that_is_there_and_nothing_else()
    {
        var page = HtmlReport.Of(MadeUp.Report());

        var style = page[(page.IndexOf("<style>", StringComparison.Ordinal) + 7)..page.IndexOf("</style>", StringComparison.Ordinal)];
        var hash = Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)));
        Assert.Contains($"default-src 'none'; style-src 'sha256-{hash}'", page.Replace("&apos;", "'"), StringComparison.Ordinal);
        Assert.DoesNotContain("style", Attributes(page));
    }

    [Fact]
    public void A_forgotten_axis_says_so_in_words_and_not_by_colour_alone()
    {
        var cell = Cells(HtmlReport.Of(MadeUp.Report())).First(text => text.Contains("310.450", StringComparison.Ordinal));

        Assert.StartsWith("NOT SET", cell, StringComparison.Ordinal);
    }

    [Fact]
    public void An_axis_that_may_be_carried_over_is_not_called_forgotten()
    {
        var setup = MadeUp.Document() with { Findings = [MadeUp.Finding("axis-not-set", Severity.Note, "Z was carried over.")] };
        var cells = Cells(HtmlReport.Of(MadeUp.Report() with { Setup = setup }));

        Assert.DoesNotContain(cells, text => text.StartsWith("NOT SET", StringComparison.Ordinal));
    }

    [Fact]
    public void A_setup_still_going_on_says_which_needed_axis_is_not_set_so_far()
    {
        var head = MadeUp.Head() with { Status = SetupStatus.Open, ClosedUtc = null, JudgedUtc = null, CuttingUtc = null };
        var page = HtmlReport.Of(MadeUp.Report() with { Setup = MadeUp.Document() with { Head = head, Findings = [] } });

        Assert.Contains(Cells(page), text => text.StartsWith("not set so far", StringComparison.Ordinal));
        Assert.Contains("still going on", Text(page), StringComparison.Ordinal);
    }

    [Fact]
    public void No_report_says_that_a_setup_is_in_order_and_every_one_carries_the_cautions()
    {
        var quiet = MadeUp.Document() with { Findings = [] };
        foreach (var setup in new[] { MadeUp.Document(), quiet })
        {
            var text = Text(HtmlReport.Of(MadeUp.Report() with { Setup = setup }));
            Assert.DoesNotMatch("(?i)\\b(safe|clear|all ok|good to go)\\b", text);
            Assert.Contains("dry run above the part", text, StringComparison.Ordinal);
            Assert.Contains("single block", text, StringComparison.Ordinal);
            Assert.Contains("reduced rapid", text, StringComparison.Ordinal);
            Assert.Contains("replaces none of these", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Long_lists_are_cut_and_say_how_many_there_are()
    {
        var cycle = MadeUp.Document().Cycles[0];
        var wear = MadeUp.Change(OffsetKey.OfTool(3, ToolPart.LengthWear), 0.000m, -0.010m, 47, adjustment: true);
        var setup = MadeUp.Document() with
        {
            Cycles = [.. Enumerable.Repeat(cycle, 5000)],
            Changes = [.. Enumerable.Repeat(wear, 3000)],
        };

        var page = HtmlReport.Of(MadeUp.Report() with { Setup = setup });

        Assert.True(page.Length < 100_000);
        Assert.Contains("of 5000 cycles", Text(page), StringComparison.Ordinal);
        Assert.Contains("of 3000 adjustments", Text(page), StringComparison.Ordinal);
    }

    [Fact]
    public void Times_stand_on_the_shops_clock_and_in_utc()
    {
        var summer = new DateTimeOffset(2026, 7, 6, 6, 30, 0, TimeSpan.Zero);
        var head = MadeUp.Head() with { OpenedUtc = summer };

        var text = Text(HtmlReport.Of(MadeUp.Report() with { Setup = MadeUp.Document() with { Head = head } }));

        Assert.Contains("Mon 6 Jul 2026, 07:30", text, StringComparison.Ordinal);
        Assert.Contains("2026-07-06 06:30:00Z", text, StringComparison.Ordinal);
    }

    private static SetupReport HostileReport()
    {
        var head = MadeUp.Head() with { Setter = Hostile, Pallet = Hostile, Programs = [Hostile], Machine = Hostile };
        var cycle = MadeUp.Document().Cycles[0] with { Program = Hostile, Serial = Hostile };
        var finding = MadeUp.Finding(Hostile, Severity.Stop, Hostile);
        var measured = MadeUp.Document().Measurements[0] with { Feature = Hostile };
        return MadeUp.Report() with
        {
            Shop = Hostile,
            Quote = _ => Hostile,
            Version = Hostile,
            Setup = MadeUp.Document() with { Head = head, Cycles = [cycle], Findings = [finding], Measurements = [measured] },
        };
    }

    private static IEnumerable<string> Tags(string page) => Elements(page).Select(element => element.Name.LocalName);

    private static IEnumerable<string> Attributes(string page) =>
        Elements(page).SelectMany(element => element.Attributes()).Select(attribute => attribute.Name.LocalName);

    private static IReadOnlyList<string> Cells(string page) =>
        [.. Elements(page).Where(element => element.Name.LocalName == "td").Select(element => element.Value)];

    private static string Text(string page) => XDocument.Parse(page).Root?.Element("body")?.Value ?? "";

    private static IEnumerable<XElement> Elements(string page) => XDocument.Parse(page).Root?.DescendantsAndSelf() ?? [];
}
