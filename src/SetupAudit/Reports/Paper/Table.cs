using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// Rows of cells in columns; it is broken between rows, and its heading is drawn again on the next page.
/// </summary>
internal sealed class Table(IReadOnlyList<TableRow> heading, IReadOnlyList<TableRow> rows, TableLook look) : Block
{
    private IReadOnlyList<double>? _widths;
    private double _of = -1;

    public override double Natural(Ruler ruler) => Columns(row => row.Natural(ruler)).Sum();

    public override double Least(Ruler ruler) => Columns(row => row.Least(ruler)).Sum();

    public override double Height(Ruler ruler, double width) =>
        Rows(ruler, width).Sum(row => row.Height(ruler, width));

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
    {
        foreach (var row in Rows(ruler, width))
        {
            row.Draw(page, ruler, x, y, width);
            y += row.Height(ruler, width);
        }
    }

    public override IReadOnlyList<Block> Parts(Ruler ruler, double width) => Rows(ruler, width);

    public override bool Flows => rows.Count > look.RowsWhole;

    public override Block? Repeated(Ruler ruler, double width) => heading.Count == 0
        ? null
        : new Stack([.. heading.Select(row => row.At(Widths(ruler, width)))]);

    private IReadOnlyList<Block> Rows(Ruler ruler, double width) =>
        [.. heading.Concat(rows).Select(row => row.At(Widths(ruler, width)))];

    private IReadOnlyList<double> Columns(Func<TableRow, IReadOnlyList<double>> measure)
    {
        var all = heading.Concat(rows).Select(measure).ToList();
        var count = all.Select(row => row.Count).DefaultIfEmpty().Max();
        return [.. Enumerable.Range(0, count).Select(at => all.Max(row => at < row.Count ? row[at] : 0))];
    }

    private IReadOnlyList<double> Widths(Ruler ruler, double width)
    {
        if (_widths is not null && Math.Abs(_of - width) < 0.001) return _widths;
        (_widths, _of) = (look.Share(
            Columns(row => row.Natural(ruler)), Columns(row => row.Least(ruler)), width), width);
        return _widths;
    }
}
