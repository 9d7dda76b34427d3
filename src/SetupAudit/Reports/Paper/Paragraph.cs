using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// Text that is broken into lines at its blanks, and within a word only where it is longer than a line.
/// </summary>
internal sealed class Paragraph(IReadOnlyList<Piece> pieces) : Block
{
    private const double LeastMost = 110;

    private readonly List<Item> _items = [];
    private List<Line>? _lines;
    private double _width = -1;

    public override double Natural(Ruler ruler) => Items(ruler).Sum(item => item.Gap + item.Width);

    public override double Least(Ruler ruler) =>
        Math.Min(LeastMost, Items(ruler).Select(item => item.Width).DefaultIfEmpty().Max());

    public override double Height(Ruler ruler, double width) => Lines(ruler, width).Sum(line => line.Tall);

    public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
    {
        foreach (var line in Lines(ruler, width))
        {
            line.Draw(page, ruler, x, y, width);
            y += line.Tall;
        }
    }

    public override IReadOnlyList<Block> Parts(Ruler ruler, double width) => [.. Lines(ruler, width)];

    private List<Item> Items(Ruler ruler)
    {
        if (_items.Count > 0) return _items;
        var gap = 0;
        foreach (var piece in pieces)
        {
            if (piece.Sign is { } sign)
            {
                var (width, _) = Svg.SizeOf(sign);
                _items.Add(new Item(piece, "", Space(ruler, gap, piece.Style), width));
                gap = 0;
                continue;
            }
            var text = piece.Style.IsUpper ? piece.Text.ToUpperInvariant() : piece.Text;
            for (var at = 0; at < text.Length;)
            {
                if (text[at] == ' ')
                {
                    (gap, at) = (gap + 1, at + 1);
                    continue;
                }
                var end = text.IndexOf(' ', at);
                if (end < 0) end = text.Length;
                var word = text[at..end];
                _items.Add(new Item(
                    piece, word, Space(ruler, gap, piece.Style), ruler.Width(word, piece.Style)));
                (gap, at) = (0, end);
            }
        }
        return _items;
    }

    private static double Space(Ruler ruler, int count, TextStyle style) =>
        count == 0 ? 0 : count * (ruler.Width("n n", style) - 2 * ruler.Width("n", style));

    private List<Line> Lines(Ruler ruler, double width)
    {
        if (_lines is not null && Math.Abs(_width - width) < 0.001) return _lines;
        var lines = new List<Line>();
        var line = new Line();
        foreach (var whole in Items(ruler))
        {
            var item = whole;
            // A hair of room: a sum of widths is not the width of the sum.
            if (line.Width > 0 && line.Width + item.Gap + item.Width > width + 0.01) Next();
            while (item.Text.Length > 1 && item.Width > width + 0.01)
            {
                var fits = ruler.Fitting(item.Text, item.Piece.Style, width);
                if (fits >= item.Text.Length) break;
                line.Add(Cut(item.Text[..fits]));
                item = Cut(item.Text[fits..]);
                Next();
            }
            line.Add(line.Width > 0 ? item : item with { Gap = 0 });

            Item Cut(string text) => new(whole.Piece, text, 0, ruler.Width(text, whole.Piece.Style));
        }
        if (line.Width > 0) lines.Add(line);
        (_lines, _width) = (lines, width);
        return lines;

        void Next()
        {
            lines.Add(line);
            line = new Line();
        }
    }

    private sealed record Item(Piece Piece, string Text, double Gap, double Width);

    private sealed class Line : Block
    {
        private readonly List<Item> _items = [];

        public double Width { get; private set; }

        public double Tall { get; private set; }

        public void Add(Item item)
        {
            _items.Add(item);
            Width += item.Gap + item.Width;
            Tall = Math.Max(Tall, item.Piece.Style.LineHeight);
        }

        public override double Natural(Ruler ruler) => Width;

        public override double Least(Ruler ruler) => Width;

        public override double Height(Ruler ruler, double width) => Tall;

        public override void Draw(XGraphics page, Ruler ruler, double x, double y, double width)
        {
            var size = _items.Max(item => item.Piece.Style.Size);
            var baseLine = y + (Tall - size) / 2 + size * 0.86;
            if (_items[0].Piece.Style.IsRight) x += width - Width;
            foreach (var item in _items)
            {
                x += item.Gap;
                if (item.Piece.Sign is { } sign)
                {
                    var (_, high) = Svg.SizeOf(sign);
                    Svg.Draw(page, ruler, sign, x, baseLine - high + 0.7, 0);
                }
                else page.DrawString(item.Text, ruler.Font(item.Piece.Style),
                    new XSolidBrush(item.Piece.Style.Ink), x, baseLine, XStringFormats.BaseLineLeft);
                x += item.Width;
            }
        }
    }
}
