using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>How a mark of a drawing is drawn, by its classes: what the style sheet says, on paper.</summary>
internal sealed record SvgInk(XPen? Stroke, XBrush? Fill, TextStyle Text)
{
    private static readonly XBrush White = new XSolidBrush(Inks.White);
    private static readonly XBrush Full = new XSolidBrush(Inks.Ink);

    public static SvgInk Of(string classes)
    {
        var names = classes.Split(' ');
        return new SvgInk(StrokeOf(names), FillOf(names), TextOf(names));
    }

    private static XPen? StrokeOf(string[] names) => names switch
    {
        ["sign", "not-set" or "set-late"] => new XPen(Inks.Alarm, 1.8),
        ["sign", "carried"] => new XPen(Inks.Soft, 1.4),
        ["sign", "unknown"] => Dashed(new XPen(Inks.Soft, 1.4), 1.2),
        ["sign", ..] => new XPen(Inks.Ink, 1.4),
        ["table", "open"] => Dashed(new XPen(Inks.Soft, 1.2), 3.3),
        ["table"] => new XPen(Inks.Ink, 1.2),
        ["stock"] => new XPen(Inks.Edge, 0.8),
        ["panel"] => new XPen(Inks.Line, 1),
        ["zero"] or ["axis"] => new XPen(Inks.Soft, 1),
        ["level", "wrong"] => new XPen(Inks.Alarm, 2.4),
        ["new", "level"] => new XPen(Inks.Ink, 2.4),
        ["old", "level"] => new XPen(Inks.Soft, 2.4),
        ["old"] => new XPen(Inks.Soft, 1.4),
        ["new"] => new XPen(Inks.Ink, 1.4),
        ["move"] => Dashed(new XPen(Inks.Ink, 1), 3),
        ["leader"] => new XPen(Inks.Edge, 0.7),
        ["scale"] => new XPen(Inks.Ink, 1.2),
        _ => null,
    };

    private static XBrush? FillOf(string[] names) => names switch
    {
        ["sign", "is-set"] or ["new", ..] or ["move", "head"] or ["bar-part"] => Full,
        ["table", ..] or ["old", ..] => White,
        ["axis", "head"] => new XSolidBrush(Inks.Soft),
        ["stock"] => new XSolidBrush(Inks.Stock),
        ["bar-all"] => new XSolidBrush(Inks.Stock),
        _ => null,
    };

    private static TextStyle TextOf(string[] names) => new(
        names.Contains("small", StringComparer.Ordinal) ? 9 : names is ["tick" or "side", ..] ? 10 : 11,
        names.Contains("wrong", StringComparer.Ordinal) ? Inks.Alarm
            : names is ["tick" or "side", ..] ? Inks.Soft : Inks.Ink)
    {
        IsBold = names is ["name", ..],
    };

    private static XPen Dashed(XPen pen, double length)
    {
        pen.DashStyle = XDashStyle.Custom;
        pen.DashPattern = [length, length];
        return pen;
    }
}
