using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>Blocks under one another.</summary>
internal sealed class Stack(IReadOnlyList<Block> blocks) : Block
{
    public IReadOnlyList<Block> Blocks => blocks;

    public override double Natural(Ruler ruler) => blocks.Select(block => block.Natural(ruler)).DefaultIfEmpty().Max();

    public override double Least(Ruler ruler) => blocks.Select(block => block.Least(ruler)).DefaultIfEmpty().Max();

    public override double Height(Ruler ruler, double width) =>
        blocks.Select((block, at) => block.Height(ruler, width) + (at == 0 ? 0 : block.Above)).Sum();

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
    {
        for (var at = 0; at < blocks.Count; at++)
        {
            if (at > 0) y += blocks[at].Above;
            blocks[at].Draw(page, ruler, x, y, width);
            y += blocks[at].Height(ruler, width);
        }
    }

    public override IReadOnlyList<Block> Parts(Ruler ruler, double width) => blocks;

    public override bool Flows => true;
}
