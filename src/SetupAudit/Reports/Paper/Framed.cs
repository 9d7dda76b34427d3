using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// A block with room around it and, at will, a ground, an outline, a line above or a bar at its left.
/// </summary>
internal sealed class Framed(Block inner) : Block
{
    public double Left { get; init; }

    public double Right { get; init; }

    public double Top { get; init; }

    public double Bottom { get; init; }

    public XColor? Ground { get; init; }

    public XPen? Outline { get; init; }

    public XPen? LineAbove { get; init; }

    public XPen? BarLeft { get; init; }

    /// <summary>The frame is as wide as what is in it, not as the room.</summary>
    public bool IsTight { get; init; }

    public override double Natural(Ruler ruler) => inner.Natural(ruler) + Left + Right;

    public override double Least(Ruler ruler) => inner.Least(ruler) + Left + Right;

    public override double Height(Ruler ruler, double width) =>
        inner.Height(ruler, Inside(ruler, width)) + Top + Bottom;

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
    {
        var inside = Inside(ruler, width);
        var (wide, height) = (inside + Left + Right, Height(ruler, width));
        if (Ground is { } ground) page.DrawRectangle(new XSolidBrush(ground), x, y, wide, height);
        if (Outline is { } outline) page.DrawRectangle(outline, x, y, wide, height);
        if (LineAbove is { } line) page.DrawLine(line, x, y, x + wide, y);
        if (BarLeft is { } bar) page.DrawLine(bar, x + bar.Width / 2, y, x + bar.Width / 2, y + height);
        inner.Draw(page, ruler, x + Left, y + Top, inside);
    }

    public override IReadOnlyList<Block> Parts(Ruler ruler, double width)
    {
        var parts = inner.Parts(ruler, Inside(ruler, width));
        return
        [
            .. parts.Select((part, at) => new Framed(part)
            {
                Above = at == 0 ? Above : 0,
                Left = Left,
                Right = Right,
                Top = at == 0 ? Top : part.Above,
                Bottom = at == parts.Count - 1 ? Bottom : 0,
                LineAbove = at == 0 ? LineAbove : null,
                BarLeft = BarLeft,
            }),
        ];
    }

    private double Inside(Ruler ruler, double width) => IsTight
        ? Math.Min(inner.Natural(ruler), width - Left - Right)
        : width - Left - Right;
}
