using System.Xml.Linq;

namespace SetupAudit.Reports.Paper;

/// <summary>Which style an element of a report has on paper, by its tag, its class and what it stands in.</summary>
internal static class PaperStyle
{
    public static TextStyle Body { get; } = new(9.4, Inks.Ink);

    public static TextStyle Small { get; } = new(8, Inks.Soft);

    public static TextStyle Of(XElement element, TextStyle around)
    {
        var css = Css(element);
        return (element.Name.LocalName, css) switch
        {
            ("h1", _) => new TextStyle(23, Inks.Ink) { IsBold = true, Leading = 1.15 },
            ("h2", _) => new TextStyle(8.6, Inks.Ink) { IsBold = true, IsUpper = true },
            (_, "of") => new TextStyle(12, Inks.Ink),
            (_, "sentence") => new TextStyle(14.5, Grave(element) ? Inks.Alarm : Inks.Ink)
            {
                IsBold = true,
                Leading = 1.25,
            },
            (_, "message") => around with { Size = 10.5 },
            ("td", "mark not-set" or "mark set-late") => around with { Size = 8.4 },
            ("td", "mark is-set" or "mark carried" or "mark unknown") => around with { Size = 8.2 },
            ("p", "state") when Css(element.Parent) is "mark not-set" or "mark set-late" =>
                around with { Size = 9.4, Ink = Inks.Alarm, IsBold = true },
            ("p", "state" or "value") when Css(element.Parent) is "mark carried" or "mark unknown" =>
                around with { Ink = Inks.Soft, Size = css == "value" ? 13 : 8.2 },
            ("p", "value") => around with
            {
                Size = 13,
                IsBold = Css(element.Parent) is "mark is-set" or "mark set-late",
            },
            (_, "beside" or "quiet" or "legend" or "eyebrow" or "where" or "unit") or ("dt" or "caption" or "footer", _)
                => around with { Size = 8, Ink = Inks.Soft, IsBold = false },
            ("span", _) when Css(element.Parent) == "weight" => Small,
            ("b", _) => around with
            {
                IsBold = true,
                Ink = Css(element.Parent?.Parent) == "legend" ? Inks.Ink : around.Ink,
            },
            ("code", _) => around with { Size = Math.Min(around.Size, 8.4), IsMono = true },
            ("th", _) when element.Parent?.Parent?.Name.LocalName == "thead" => TableOf(element) is "list"
                ? Numbers(css) with { Size = 8, Ink = Inks.Soft }
                : Numbers(css) with { Size = 9.6, IsBold = true },
            ("th", _) => TableOf(element) switch
            {
                "causes" => around with { Size = 8.6 },
                "list" => around with { Size = 9, IsBold = true },
                _ => around with { Size = 12, IsBold = true },
            },
            ("td", _) => Numbers(css) with
            {
                Size = TableOf(element) == "causes" ? 8.6 : 9,
                IsBold = Css(element.Parent) == "out",
                Ink = Css(element.Parent) == "out" ? Inks.Alarm : Inks.Ink,
            },
            ("li", _) => around with { Size = 9 },
            _ => around,
        };
    }

    /// <summary>The class of an element; empty where it has none.</summary>
    public static string Css(XElement? element) => (string?)element?.Attribute("class") ?? "";

    private static string TableOf(XElement cell) => Css(cell.Ancestors("table").First());

    private static bool Grave(XElement element) => Css(element.Parent) == "verdict found";

    private static TextStyle Numbers(string css) => Body with { IsRight = css == "number" };
}
