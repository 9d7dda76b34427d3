using SetupAudit.Reports;

namespace SetupAudit.Alerts.Letters;

/// <summary>A letter as the HTML part of a mail: plain elements with styles of their own, nothing loaded.</summary>
internal static class HtmlLetter
{
    private const string Body = "font-family:sans-serif;font-size:16px;line-height:1.4;color:#1a1a1a;max-width:42em";

    public static string Of(Letter letter) => Markup.Page(page =>
    {
        page.Own("<!DOCTYPE html>\n");
        using var html = page.In("html", null, ("lang", "en"));
        using (page.In("head"))
        {
            page.Mark("meta", null, ("charset", "utf-8"));
            page.Put("title", letter.Subject);
        }
        using var body = page.In("body", null, ("style", Body));
        foreach (var line in letter.Lines) Write(page, line);
    });

    private static void Write(Markup page, LetterLine line)
    {
        page.NewLine();
        using var paragraph = page.In("p", null, ("style", Style(line.Role)));
        if (line.Role is not (LetterRole.Link or LetterRole.Page))
        {
            page.Text(line.Text);
            return;
        }
        page.Text(line.Role == LetterRole.Link ? "The report: " : "All machines: ");
        // The address is ours: made of the configured one and the setup's id.
        using var link = page.In("a", null, ("href", line.Text));
        page.Text(line.Text);
    }

    private static string Style(LetterRole role) => role switch
    {
        LetterRole.Late => "margin:0 0 12px;padding:6px 10px;border-left:4px solid #8a6d00;background:#fff7d6",
        LetterRole.Stop => "margin:0 0 12px;padding:8px 12px;border-left:6px solid #b00020;background:#fdecee;"
            + "font-size:18px;font-weight:bold",
        LetterRole.Lead => "margin:0 0 12px;font-size:18px;font-weight:bold",
        LetterRole.Heading => "margin:16px 0 2px;font-weight:bold",
        LetterRole.Detail => "margin:0 0 4px 20px",
        LetterRole.Caution => "margin:16px 0 4px;padding-top:8px;border-top:1px solid #999999",
        LetterRole.Foot => "margin:4px 0;font-size:13px;color:#555555",
        _ => "margin:0 0 6px",
    };
}
