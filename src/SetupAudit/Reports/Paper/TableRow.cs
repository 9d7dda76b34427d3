using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>A row of a table, and the cells in it.</summary>
internal sealed record TableRow(IReadOnlyList<TableCell> Cells, TableLook Look)
{
    public IReadOnlyList<double> Natural(Ruler ruler) =>
        [.. Cells.Select(cell => cell.Inner.Natural(ruler) + 2 * Look.PadX + 0.5)];

    public IReadOnlyList<double> Least(Ruler ruler) =>
        [
            .. Cells.Select(cell =>
                (cell.IsOneLine ? cell.Inner.Natural(ruler) : cell.Inner.Least(ruler)) + 2 * Look.PadX + 0.5),
        ];

    /// <summary>The row with the widths of its columns.</summary>
    public Block At(IReadOnlyList<double> widths) => new Placed(this, widths);

    private sealed class Placed(TableRow row, IReadOnlyList<double> widths) : Block
    {
        public override double Natural(Ruler ruler) => widths.Sum();

        public override double Least(Ruler ruler) => widths.Sum();

        public override double Height(Ruler ruler, double width) => row.Cells
            .Select((cell, at) => cell.Inner.Height(ruler, Inside(at))).DefaultIfEmpty().Max() + 2 * row.Look.PadY;

        public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
        {
            var (height, left) = (Height(ruler, width), x);
            for (var at = 0; at < row.Cells.Count; at++)
            {
                var cell = row.Cells[at];
                if (cell.IsAlarm)
                    page.DrawRectangle(new XSolidBrush(Inks.AlarmWash), left, y, widths[at], height);
                if (row.Look.IsGrid) page.DrawRectangle(TableLook.Hair, left, y, widths[at], height);
                cell.Inner.Draw(page, ruler, left + row.Look.PadX, y + row.Look.PadY, Inside(at));
                left += widths[at];
            }
            if (row.Look.IsRuled) page.DrawLine(TableLook.Hair, x, y + height, x + width, y + height);
            left = x;
            // Last, so that no neighbour's line lies over it.
            for (var at = 0; at < row.Cells.Count; left += widths[at++])
                if (row.Cells[at].IsAlarm)
                    page.DrawRectangle(new XPen(Inks.Alarm, 1.8), left + 1, y + 1, widths[at] - 2, height - 2);
        }

        private double Inside(int at) => widths[at] - 2 * row.Look.PadX;
    }
}
