using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>Measures text, and keeps the fonts and widths that were asked for.</summary>
internal sealed class Ruler : IDisposable
{
    private readonly XGraphics _measure =
        XGraphics.CreateMeasureContext(new XSize(1000, 1000), XGraphicsUnit.Point, XPageDirection.Downwards);
    private readonly Dictionary<(double Size, bool IsBold, bool IsMono), XFont> _fonts = [];

    public XFont Font(TextStyle style)
    {
        var key = (style.Size, style.IsBold, style.IsMono);
        if (_fonts.TryGetValue(key, out var font)) return font;
        return _fonts[key] = new XFont(style.IsMono ? PaperFonts.Mono : PaperFonts.Sans, style.Size,
            style.IsBold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
    }

    public double Width(string text, TextStyle style) =>
        text.Length == 0 ? 0 : _measure.MeasureString(text, Font(style), XStringFormats.Default).Width;

    /// <summary>How many characters from the front fit, at least one whole rune.</summary>
    public int Fitting(ReadOnlySpan<char> text, TextStyle style, double width)
    {
        var (low, high) = (1, text.Length);
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (Width(text[..middle].ToString(), style) <= width) low = middle;
            else high = middle - 1;
        }
        return low < text.Length && char.IsLowSurrogate(text[low]) ? (low > 1 ? low - 1 : low + 1) : low;
    }

    public void Dispose() => _measure.Dispose();
}
