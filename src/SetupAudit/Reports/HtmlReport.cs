using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Reports;

/// <summary>
/// The report of one setup as one HTML file: no scripts, nothing loaded from anywhere, and it prints on A4 and Letter.
/// </summary>
public static class HtmlReport
{
    /// <summary>
    /// The policy of every page: this one style sheet, known by its hash, and nothing else. A name that got past
    /// escaping could still load and run nothing.
    /// </summary>
    public static string Policy { get; } = "default-src 'none'; style-src 'sha256-"
        + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(ReportStyle.Css)))
        + "'; base-uri 'none'; form-action 'none'";

    public static string Of(SetupReport report) => Markup.Page(page =>
    {
        page.Own("<!DOCTYPE html>\n");
        using var html = page.In("html", null, ("lang", "en"));
        Head(page, $"Setup {report.Setup.Head.Setup}");
        using var body = page.In("body");
        Body(page, report);
    });

    /// <summary>What the page says, without its head.</summary>
    internal static string BodyOf(SetupReport report) => Markup.Page(page => Body(page, report));

    private static void Body(Markup page, SetupReport report)
    {
        using var sheet = page.In("main");
        HeadSection.Write(page, report);
        DatumSection.Write(page, report);
        FindingsSection.Write(page, report);
        ReviewSection.Write(page, report);
        PictureSection.Write(page, report);
        ToolSection.Write(page, report);
        MeasurementSection.Write(page, report);
        SinceSection.Write(page, report);
        LimitsSection.Write(page, report);
    }

    internal static void Head(Markup page, string title)
    {
        using var head = page.In("head");
        page.Mark("meta", null, ("charset", "utf-8"));
        page.Mark("meta", null, ("http-equiv", "Content-Security-Policy"),
            ("content", Policy));
        page.Mark("meta", null, ("name", "viewport"), ("content", "width=device-width, initial-scale=1"));
        page.Mark("meta", null, ("name", "referrer"), ("content", "no-referrer"));
        page.Put("title", title);
        page.Own($"<style>{ReportStyle.Css}</style>");
    }
}
