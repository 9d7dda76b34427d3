using System.Text;
using System.Xml.Linq;
using SetupAudit.Datums;
using SetupAudit.Reports.Paper;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

public sealed class PdfReportTests
{
    private const double Side = 40;

    [Fact]
    public void A_report_on_paper_says_every_letter_that_the_page_says()
    {
        var report = MadeUp.Report();

        Assert.Equal(Letters(Told(HtmlReport.Of(report))), Letters(OnPaper(PdfReport.Of(report))));
    }

    [Fact]
    public void Long_reports_go_on_over_pages_with_nothing_lost_and_nothing_beyond_the_edges()
    {
        var report = Long();

        var pages = PdfText.Read(PdfReport.Of(report));

        Assert.True(pages.Count >= 6, $"{pages.Count} pages");
        // Headings of tables stand there more than once.
        var paper = Letters(Words(pages)).CountBy(letter => letter).ToDictionary();
        Assert.All(Letters(Told(HtmlReport.Of(report))).CountBy(letter => letter),
            said => Assert.True(paper.GetValueOrDefault(said.Key) >= said.Value, $"{said} and {paper.GetValueOrDefault(said.Key)}"));
        Assert.All(pages, page => Assert.All(page.Words, word => Assert.True(
            word.Left >= Side && word.Right <= page.Width - Side && word.Top >= 20 && word.Bottom <= page.Height - 20,
            $"{word}")));
    }

    [Fact]
    public void Words_of_one_page_do_not_lie_on_one_another()
    {
        foreach (var page in PdfText.Read(PdfReport.Of(Long())))
            foreach (var (at, word) in page.Words.Index())
                Assert.DoesNotContain(page.Words.Skip(at + 1), other => Overlaps(word, other));
    }

    [Fact]
    public void The_heading_of_a_table_stands_again_on_each_page_that_it_goes_on_to()
    {
        var pages = PdfText.Read(PdfReport.Of(Long()));

        var withCycles = pages.Where(page => page.Words.Any(word => word.Text.StartsWith("serial-", StringComparison.Ordinal)));
        Assert.All(withCycles, page => Assert.Contains(page.Words, word => word.Text == "Ended"));
        Assert.True(withCycles.Count() > 1);
    }

    [Fact]
    public void A_heading_stands_on_the_page_of_the_drawing_under_it()
    {
        PaperFonts.Use();
        foreach (var lines in Enumerable.Range(1, 60))
        {
            using var document = new PdfSharp.Pdf.PdfDocument();
            using (var pages = new Pages(document))
            {
                var body = XElement.Parse($"""
                    <body><section>{string.Concat(Enumerable.Repeat("<p>word</p>", lines))}
                    <h2>Heading</h2>
                    <svg class="drawing" viewBox="0 0 500 200" width="500" height="200"><text x="9" y="190">Drawn</text></svg></section></body>
                    """);
                pages.Place(PaperReader.Read(body));
                pages.Finish("made up");
            }
            using var bytes = new MemoryStream();
            document.Save(bytes, closeStream: false);
            var read = PdfText.Read(bytes.ToArray());
            Assert.Equal(read.Index().Single(page => page.Item.Words.Any(word => word.Text == "HEADING")).Index,
                read.Index().Single(page => page.Item.Words.Any(word => word.Text == "Drawn")).Index);
        }
    }

    [Fact]
    public void Each_page_is_numbered_and_names_the_setup()
    {
        var pages = PdfText.Read(PdfReport.Of(Long()));

        for (var at = 0; at < pages.Count; at++)
        {
            var foot = string.Join(' ', pages[at].Words.Where(word => word.Top > pages[at].Height - 45).Select(word => word.Text));
            Assert.Contains(MadeUp.Setup, foot, StringComparison.Ordinal);
            Assert.EndsWith($"page {at + 1} of {pages.Count}", foot, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Hostile_names_are_words_on_paper_and_a_word_without_end_is_broken()
    {
        const string Hostile = "<script>alert(1)</script> (Tj) /JS %PDF \u001b[31m\u202E";
        var report = MadeUp.Report() with
        {
            Shop = Hostile,
            Setup = MadeUp.Document() with
            {
                Findings = [MadeUp.Finding("axis-not-set", Severity.Stop, new string('w', 4000))],
            },
        };

        var pdf = PdfReport.Of(report);

        Assert.DoesNotContain("/JavaScript", Encoding.Latin1.GetString(pdf), StringComparison.Ordinal);
        var pages = PdfText.Read(pdf);
        Assert.Contains("<script>alert(1)</script>", string.Concat(pages[0].Words.Select(word => word.Text)), StringComparison.Ordinal);
        Assert.All(pages.SelectMany(page => page.Words), word => Assert.True(word.Right <= 595.28 - Side, $"{word}"));
        Assert.Equal(Count(Told(HtmlReport.Of(report))), Count(Words(pages)));

        static int Count(string text) => text.Count(letter => letter == 'w');
    }

    private static SetupReport Long()
    {
        var setup = MadeUp.Document();
        var cycle = setup.Cycles[0];
        return MadeUp.Report() with
        {
            Setup = setup with
            {
                Cycles = [.. Enumerable.Range(0, 40).Select(at => cycle with { Serial = $"serial-{at}" })],
                Measurements = [.. Enumerable.Range(0, 60).Select(at => setup.Measurements[0] with { Feature = $"bore-{at}" })],
                Changes =
                [
                    .. Enumerable.Range(1, 40).Select(tool => MadeUp.Change(
                        OffsetKey.OfTool(tool, ToolPart.LengthWear), 0.000m, -0.010m, 47, adjustment: true)),
                ],
                Findings =
                [
                    .. setup.Findings,
                    .. Enumerable.Range(0, 12).Select(at => MadeUp.Finding($"rule-{at}", Severity.High,
                        string.Join(' ', Enumerable.Repeat($"finding {at} says this", 40)))),
                ],
            },
        };
    }

    // The order of letters is that of places on a page; so both are counted letter by letter.
    private static string Letters(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter) && letter != '•').Order());

    private static string Told(string html) => string.Join(' ', XDocument.Parse(html).Root?.Element("body")?
        .DescendantNodes().OfType<XText>().Select(text => IsUpper(text) ? text.Value.ToUpperInvariant() : text.Value) ?? []);

    private static bool IsUpper(XText text) => text.Parent?.Name.LocalName == "h2";

    private static string OnPaper(byte[] pdf) => Words(PdfText.Read(pdf));

    // Without the foot.
    private static string Words(IReadOnlyList<PdfPage> pages) => string.Join(' ', pages.SelectMany(page =>
        page.Words.Where(word => word.Top < page.Height - 45)).Select(word => word.Text));

    private static bool Overlaps(PdfWord one, PdfWord other) =>
        Math.Min(one.Right, other.Right) - Math.Max(one.Left, other.Left) > 0.5
        && Math.Min(one.Bottom, other.Bottom) - Math.Max(one.Top, other.Top) > 2.5;
}
