using System.Globalization;
using System.Xml.Linq;
using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// Draws the drawings of a report on paper: lines, boxes, discs, straight paths and texts, as pens write them.
/// </summary>
internal static class Svg
{
    private const double PointsAPixel = 0.75;

    /// <summary>The size of a small drawing in a line of text, in points.</summary>
    public static (double Width, double Height) SizeOf(XElement svg)
    {
        var room = PaperStyle.Css(svg).StartsWith("sign", StringComparison.Ordinal) ? 4 : 0;
        return (Number(svg, "width") * PointsAPixel + room, Number(svg, "height") * PointsAPixel);
    }

    /// <summary>Its own coordinates: width and height of the view box, else of the drawing.</summary>
    public static (double Width, double Height) BoxOf(XElement svg)
    {
        var box = ((string?)svg.Attribute("viewBox"))?.Split(' ');
        return box is { Length: 4 }
            ? (Parse(box[2]), Parse(box[3]))
            : (Number(svg, "width"), Number(svg, "height"));
    }

    /// <summary>Draws it at a place, as wide as is said; zero for its own size.</summary>
    public static void Draw(XGraphics page, Ruler ruler, XElement svg, double x, double y, double width)
    {
        var scale = width > 0 ? width / BoxOf(svg).Width
            : Number(svg, "width") * PointsAPixel / BoxOf(svg).Width;
        var state = page.Save();
        page.TranslateTransform(x, y);
        page.ScaleTransform(scale);
        var outer = (string?)svg.Attribute("class") ?? "";
        foreach (var mark in svg.Elements())
            Mark(page, ruler, mark, SvgInk.Of((string?)mark.Attribute("class") ?? outer));
        page.Restore(state);
    }

    private static void Mark(XGraphics page, Ruler ruler, XElement mark, SvgInk ink)
    {
        switch (mark.Name.LocalName)
        {
            case "line" when ink.Stroke is { } pen:
                page.DrawLine(pen, Number(mark, "x1"), Number(mark, "y1"), Number(mark, "x2"), Number(mark, "y2"));
                break;
            case "rect":
                var (wide, high) = (Number(mark, "width"), Number(mark, "height"));
                if (wide > 0 && high > 0 && (ink.Stroke is not null || ink.Fill is not null))
                    page.DrawRectangle(ink.Stroke, ink.Fill, Number(mark, "x"), Number(mark, "y"), wide, high);
                break;
            case "circle" when ink.Stroke is not null || ink.Fill is not null:
                var r = Number(mark, "r");
                page.DrawEllipse(ink.Stroke, ink.Fill, Number(mark, "cx") - r, Number(mark, "cy") - r, 2 * r, 2 * r);
                break;
            case "path" when ink.Stroke is not null || ink.Fill is not null:
                page.DrawPath(ink.Stroke, ink.Fill, SvgPath.Read((string?)mark.Attribute("d") ?? ""));
                break;
            case "text":
                Text(page, ruler, mark, ink.Text);
                break;
        }
    }

    private static void Text(XGraphics page, Ruler ruler, XElement mark, TextStyle style)
    {
        var x = Number(mark, "x") - (string?)mark.Attribute("text-anchor") switch
        {
            "middle" => ruler.Width(mark.Value, style) / 2,
            "end" => ruler.Width(mark.Value, style),
            _ => 0,
        };
        page.DrawString(mark.Value, ruler.Font(style), new XSolidBrush(style.Ink), x, Number(mark, "y"),
            XStringFormats.BaseLineLeft);
    }

    private static double Number(XElement element, string name) =>
        (string?)element.Attribute(name) is { } text ? Parse(text) : 0;

    private static double Parse(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
