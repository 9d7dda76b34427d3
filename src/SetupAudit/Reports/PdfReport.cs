using System.Xml.Linq;
using PdfSharp.Pdf;
using SetupAudit.Reports.Paper;

namespace SetupAudit.Reports;

/// <summary>
/// The report of one setup as one PDF file on A4: what <see cref="HtmlReport"/> says, word for word, set on pages. It
/// holds its fonts, runs nothing and links nowhere.
/// </summary>
public static class PdfReport
{
    public static byte[] Of(SetupReport report)
    {
        PaperFonts.Use();
        using var document = new PdfDocument();
        document.Info.Title = VisibleText.Of($"Setup {report.Setup.Head.Setup}");
        document.Info.Subject = VisibleText.Of($"Setup audit, {report.Shop}");
        document.Info.Creator = $"SetupAudit {report.Version}";
        document.Info.CreationDate = report.MadeUtc.UtcDateTime;
        document.Language = "en";
        using (var pages = new Pages(document))
        {
            var body = XElement.Parse(HtmlReport.BodyOf(report), LoadOptions.PreserveWhitespace);
            pages.Place(PaperReader.Read(body));
            pages.Finish(VisibleText.Of($"{report.Shop} · {report.Setup.Head.Setup}"));
        }
        using var bytes = new MemoryStream();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }
}
