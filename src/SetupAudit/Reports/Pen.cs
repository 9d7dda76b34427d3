using System.Globalization;

namespace SetupAudit.Reports;

/// <summary>Draws into a page by the drawing's own points: x to the right, y down.</summary>
internal sealed class Pen(Markup page)
{
    public void Line(string css, double x1, double y1, double x2, double y2) =>
        page.Mark("line", css, ("x1", Of(x1)), ("y1", Of(y1)), ("x2", Of(x2)), ("y2", Of(y2)));

    public void Box(string css, double x, double y, double width, double height) => page.Mark("rect", css,
        ("x", Of(x)), ("y", Of(y)), ("width", Of(Math.Max(0, width))), ("height", Of(Math.Max(0, height))));

    public void Disc(string css, double x, double y, double radius) =>
        page.Mark("circle", css, ("cx", Of(x)), ("cy", Of(y)), ("r", Of(radius)));

    public void Path(string css, string data) => page.Mark("path", css, ("d", data));

    /// <summary>A text that starts at the point, or is centred on it, or ends there (start, middle, end).</summary>
    public void Text(string css, double x, double y, string text, string anchor = "start")
    {
        using var element = page.In("text", css, ("x", Of(x)), ("y", Of(y)), ("text-anchor", anchor));
        page.Text(text);
    }

    /// <summary>A cross of that half length, turned against the clock by that angle in degrees.</summary>
    public void Cross(string css, double x, double y, double half, double turned)
    {
        var (sin, cos) = Math.SinCos(turned * Math.PI / 180);
        Line(css, x - half * cos, y + half * sin, x + half * cos, y - half * sin);
        Line(css, x - half * sin, y - half * cos, x + half * sin, y + half * cos);
    }

    /// <summary>A line with a small head at its end.</summary>
    public void Arrow(string css, double x1, double y1, double x2, double y2)
    {
        Line(css, x1, y1, x2, y2);
        var length = double.Hypot(x2 - x1, y2 - y1);
        if (length < 1) return;
        var (dx, dy) = ((x2 - x1) / length * 5, (y2 - y1) / length * 5);
        Path(css + " head", string.Create(CultureInfo.InvariantCulture,
            $"M{x2:0.##} {y2:0.##} L{x2 - dx - dy / 2:0.##} {y2 - dy + dx / 2:0.##} "
            + $"L{x2 - dx + dy / 2:0.##} {y2 - dy - dx / 2:0.##} Z"));
    }

    /// <summary>A bar of that length with an end at each side.</summary>
    public void Scale(double x, double y, double length) =>
        Path("scale", $"M{Of(x)} {Of(y - 4)} v8 m0 -4 h{Of(length)} m0 -4 v8");

    /// <summary>From a point to a label's height, then level to the label.</summary>
    public void Leader(double x, double y, double bend, double height, double end) =>
        Path("leader", $"M{Of(x)} {Of(y)} L{Of(bend)} {Of(height)} H{Of(end)}");

    /// <summary>The longest of 1, 2 or 5 times a power of ten that is no longer than this.</summary>
    public static double Round(double most)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(most)));
        return most >= 5 * power ? 5 * power : most >= 2 * power ? 2 * power : power;
    }

    public static string Of(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    public static string Length(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
