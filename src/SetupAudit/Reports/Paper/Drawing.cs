using System.Xml.Linq;
using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>A drawing as wide as the page.</summary>
internal sealed class Drawing(XElement svg) : Block
{
    public override double Natural(Ruler ruler) => Svg.BoxOf(svg).Width;

    public override double Least(Ruler ruler) => 0;

    public override double Height(Ruler ruler, double width)
    {
        var (wide, high) = Svg.BoxOf(svg);
        return high * width / wide;
    }

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width) =>
        Svg.Draw(page, ruler, svg, x, y, width);
}
