using System.Globalization;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace SetupAudit.Reports.Paper;

/// <summary>Sets blocks on pages, one under another, and begins a page where one does not fit.</summary>
internal sealed class Pages : IDisposable
{
    private const double PageWidth = 595.28;
    private const double PageHeight = 841.89;
    private const double Side = 42;
    private const double Top = 38;
    private const double Bottom = 50;
    private const double Foot = 28;

    private static readonly TextStyle FootStyle = new(7.5, Inks.Soft);

    private readonly PdfDocument _document;
    private readonly Ruler _ruler = new();
    private readonly List<Func<Block?>> _repeated = [];
    private XGraphics? _page;
    private double _y = Top;

    public Pages(PdfDocument document)
    {
        _document = document;
        Begin();
    }

    private static double Width => PageWidth - 2 * Side;

    private static double End => PageHeight - Bottom;

    public void Place(IReadOnlyList<Block> blocks)
    {
        for (var at = 0; at < blocks.Count; at++) Place(blocks[at], at + 1 < blocks.Count ? blocks[at + 1] : null);
    }

    private void Place(Block block, Block? next)
    {
        var above = _y > Top ? block.Above : 0;
        var height = block.Height(_ruler, Width);
        if (_y + above + height + Keep(block, next, End - Top - height) <= End) Draw(block, above, height);
        else if (block.Parts(_ruler, Width) is { Count: > 0 } parts && (block.Flows || height > End - Top))
        {
            if (block.Repeated(_ruler, Width) is not null) _repeated.Add(() => block.Repeated(_ruler, Width));
            var at = 0;
            foreach (var part in parts)
            {
                if (at++ == 0 && _y > Top) _y += above;
                Place(part, at < parts.Count ? parts[at] : next);
            }
            if (block.Repeated(_ruler, Width) is not null) _repeated.RemoveAt(_repeated.Count - 1);
        }
        else
        {
            if (_y > Top) Begin();
            Draw(block, 0, height);
        }
    }

    // A heading stands above something: at least the first of what follows that is not broken.
    private double Keep(Block block, Block? next, double room)
    {
        if (block.KeepWith <= 0 || next is null) return block.KeepWith;
        var lead = next.Above + Lead(next);
        return lead <= room ? Math.Max(block.KeepWith, lead) : block.KeepWith;
    }

    private double Lead(Block block) => block.Flows && block.Parts(_ruler, Width) is { Count: > 0 } parts
        ? Lead(parts[0])
        : block.Height(_ruler, Width);

    /// <summary>Numbers the pages, once all are there.</summary>
    public void Finish(string foot)
    {
        _page?.Dispose();
        _page = null;
        for (var at = 0; at < _document.PageCount; at++)
        {
            using var page = XGraphics.FromPdfPage(_document.Pages[at], XGraphicsPdfPageOptions.Append);
            var text = string.Create(
                CultureInfo.InvariantCulture, $"page {at + 1} of {_document.PageCount}");
            var (font, ink) = (_ruler.Font(FootStyle), new XSolidBrush(FootStyle.Ink));
            page.DrawString(foot, font, ink, Side, PageHeight - Foot, XStringFormats.BaseLineLeft);
            page.DrawString(text, font, ink, PageWidth - Side, PageHeight - Foot, XStringFormats.BaseLineRight);
        }
    }

    public void Dispose()
    {
        _page?.Dispose();
        _ruler.Dispose();
    }

    private void Draw(Block block, double above, double height)
    {
        if (_page is null) return;
        block.Draw(_page, _ruler, Side, _y + above, Width);
        _y += above + height;
    }

    private void Begin()
    {
        _page?.Dispose();
        var page = _document.AddPage();
        page.Width = XUnit.FromPoint(PageWidth);
        page.Height = XUnit.FromPoint(PageHeight);
        _page = XGraphics.FromPdfPage(page);
        _y = Top;
        foreach (var repeated in _repeated.Select(make => make()).OfType<Block>().ToList())
            Draw(repeated, 0, repeated.Height(_ruler, Width));
    }
}
