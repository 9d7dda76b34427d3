using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>Blocks side by side, in columns of given widths; a width of zero shares what is left.</summary>
internal sealed class Beside(IReadOnlyList<(Block Block, double Width)> columns, double gap) : Block
{
    public override double Natural(Ruler ruler) =>
        columns.Sum(column => column.Width > 0 ? column.Width : column.Block.Natural(ruler))
        + gap * (columns.Count - 1);

    public override double Least(Ruler ruler) =>
        columns.Sum(column => column.Width > 0 ? column.Width : column.Block.Least(ruler)) + gap * (columns.Count - 1);

    public override double Height(Ruler ruler, double width) =>
        columns.Max(column => column.Block.Height(ruler, WidthOf(column.Width, width)));

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
    {
        foreach (var (block, given) in columns)
        {
            var wide = WidthOf(given, width);
            block.Draw(page, ruler, x, y, wide);
            x += wide + gap;
        }
    }

    /// <summary>The last column is broken; those before it stand beside its first part.</summary>
    public override IReadOnlyList<Block> Parts(Ruler ruler, double width)
    {
        var (last, given) = columns[^1];
        return
        [
            .. last.Parts(ruler, WidthOf(given, width)).Select((part, at) => new Beside(
                [.. columns.SkipLast(1).Select(column => (at == 0 ? column.Block : Nothing, column.Width)),
                    (part, given)], gap)
            {
                Above = at == 0 ? Above : part.Above,
            }),
        ];
    }

    private static Block Nothing { get; } = new Stack([]);

    private double WidthOf(double given, double width)
    {
        if (given > 0) return given;
        var left = width - gap * (columns.Count - 1) - columns.Sum(column => column.Width);
        return left / columns.Count(column => column.Width <= 0);
    }
}
