using System.Xml.Linq;
using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// Turns the markup of a report into blocks for paper. Whatever it does not know is set as plain text, so that nothing
/// which stands in the one is missing in the other.
/// </summary>
internal static class PaperReader
{
    private const double FactGap = 14;
    private const int FactsARow = 3;
    private const double WeightWidth = 92;

    /// <summary>The blocks of the report's body, from top to bottom.</summary>
    public static IReadOnlyList<Block> Read(XElement body) => Blocks(body, PaperStyle.Body);

    private static List<Block> Blocks(XElement parent, TextStyle around)
    {
        var (blocks, line) = (new List<Block>(), new List<XNode>());
        foreach (var node in parent.Nodes())
        {
            if (node is XElement element && IsBlock(element))
            {
                EndLine();
                blocks.AddRange(Element(element, PaperStyle.Of(element, around)));
            }
            else line.Add(node);
        }
        EndLine();
        return blocks;

        void EndLine()
        {
            var pieces = Pieces(line, around);
            line.Clear();
            if (pieces.Any(piece => piece.Sign is not null || piece.Text.Trim(' ', '\n').Length > 0))
                blocks.Add(new Paragraph(pieces));
        }
    }

    private static bool IsBlock(XElement element) => element.Name.LocalName switch
    {
        "span" => PaperStyle.Css(element) is "beside" or "where" or "of"
            || PaperStyle.Css(element.Parent) is "weight" or "eyebrow",
        "svg" => PaperStyle.Css(element) == "drawing",
        "b" => PaperStyle.Css(element.Parent) == "weight",
        "code" => element.Parent?.Name.LocalName == "li",
        _ => true,
    };

    private static IReadOnlyList<Block> Element(XElement element, TextStyle style) =>
        (element.Name.LocalName, PaperStyle.Css(element)) switch
        {
            ("main" or "header" or "section", _) => Blocks(element, style),
            ("h2", _) => [Heading(element, style)],
            ("p", "eyebrow") => [Ends(element, style)],
            ("p", "legend") => [new Paragraph(Legend(element, style)) { Above = 6 }],
            ("div", "verdict" or "verdict found") => [Verdict(element, style)],
            ("dl", _) => Facts(element, style),
            ("article", _) => [Finding(element, style)],
            ("b", _) => [Weight(element, style)],
            ("table", _) => Table(element, style),
            ("ul", var css) => [.. element.Elements("li").Select((item, at) =>
                Item(item, PaperStyle.Of(item, style), css == "evidence", at == 0))],
            ("svg", _) => [new Drawing(element) { Above = 4 }],
            ("footer", _) => [new Stack(Blocks(element, style)) { Above = 22 }],
            ("h1", _) => [new Stack(Blocks(element, style)) { Above = 4 }],
            (_, "of") => [new Stack(Blocks(element, style)) { Above = 3 }],
            ("p", "message" or "sentence" or "state" or "value") or ("span" or "code", _) =>
                [new Stack(Blocks(element, style))],
            _ => [new Stack(Blocks(element, style)) { Above = 3 }],
        };

    private static Framed Heading(XElement element, TextStyle style) => new Framed(new Stack(Blocks(element, style)))
    {
        Above = 20,
        KeepWith = 74,
        Top = 6,
        Bottom = 5,
        LineAbove = new XPen(Inks.Ink, 0.8),
    };

    private static Beside Ends(XElement element, TextStyle style)
    {
        var spans = element.Elements().Select((span, at) =>
            (Block: (Block)new Paragraph(Pieces(span.Nodes(), style with { IsRight = at > 0 })), Width: 0.0)).ToList();
        return new Beside(spans, 10);
    }

    private static Framed Verdict(XElement element, TextStyle style) => new Framed(new Stack(Blocks(element, style)))
    {
        Above = 14,
        Left = 14,
        Top = 9,
        Bottom = 9,
        BarLeft = new XPen(PaperStyle.Css(element) == "verdict" ? Inks.Ink : Inks.Alarm, 3.6),
    };

    private static IReadOnlyList<Block> Facts(XElement element, TextStyle style)
    {
        var facts = element.Elements().Select(fact => (Block)new Stack(Blocks(fact, style))).ToList();
        return
        [
            .. facts.Chunk(FactsARow).Select((row, at) => new Beside(
                [
                    .. row.Concat(Enumerable.Repeat<Block>(new Stack([]), FactsARow - row.Length))
                        .Select(fact => (fact, 0.0)),
                ], FactGap)
            {
                Above = at == 0 ? 14 : 8,
            }),
        ];
    }

    private static Framed Finding(XElement element, TextStyle style)
    {
        var parts = element.Elements().ToList();
        var isFirst = element.ElementsBeforeSelf().LastOrDefault()?.Name.LocalName == "h2";
        return new Framed(new Beside(
            [
                (new Stack(Blocks(parts[0], style)), WeightWidth),
                (new Stack([.. parts.Skip(1).SelectMany(part => Blocks(part, style))]), 0),
            ], 12))
        {
            Above = isFirst ? 0 : 9,
            Top = isFirst ? 2 : 9,
            LineAbove = isFirst ? null : TableLook.Hair,
        };
    }

    private static Framed Weight(XElement element, TextStyle style)
    {
        var isGrave = PaperStyle.Css(element.Parent?.Parent) == "finding grave";
        var text = style with { Size = 8, IsBold = true, Ink = isGrave ? Inks.White : Inks.Ink, Leading = 1.2 };
        return new Framed(new Paragraph(Pieces(element.Nodes(), text)))
        {
            Left = 5,
            Right = 5,
            Top = 2,
            Bottom = 2,
            IsTight = true,
            Ground = isGrave ? Inks.Alarm : null,
            Outline = new XPen(isGrave ? Inks.Alarm : Inks.Ink, 1.1),
        };
    }

    private static IReadOnlyList<Block> Table(XElement element, TextStyle style)
    {
        var css = PaperStyle.Css(element);
        var look = css switch
        {
            "grid" => new TableLook { IsGrid = true, PadX = 8, PadY = 5 },
            "grid dense" => new TableLook { IsGrid = true, PadY = 2 },
            "list hashes" => new TableLook { IsRuled = true, First = 0.34, PadX = 3 },
            "causes" => new TableLook { LastTakesRest = true, PadX = 3.5, PadY = 1, KeepsNames = true },
            _ => new TableLook { IsRuled = true, PadX = 4 },
        };
        var heading = element.Elements("thead").Elements("tr").Select(Row).ToList();
        var rows = element.Elements("tbody").Elements("tr").Concat(element.Elements("tr")).Select(Row).ToList();
        var table = new Table(heading, rows, look) { Above = css == "causes" ? 1 : 3 };
        return element.Element("caption") is { } caption
            ? [new Stack(Blocks(caption, PaperStyle.Of(caption, style))) { Above = 5, KeepWith = 20 }, table]
            : [table];

        TableRow Row(XElement row) => new([.. row.Elements().Select(Cell)], look);

        TableCell Cell(XElement cell) => new(new Stack(Blocks(cell, PaperStyle.Of(cell, style))),
            PaperStyle.Css(cell) is "mark not-set" or "mark set-late",
            look.KeepsNames && cell.Name.LocalName == "th");
    }

    private static Block Item(XElement item, TextStyle style, bool isEvidence, bool isFirst) => isEvidence
        ? new Framed(new Stack(Blocks(item, style)))
        {
            Above = isFirst ? 7 : 4,
            Left = 7,
            BarLeft = new XPen(Inks.Line, 1.5),
        }
        : new Beside([(new Paragraph([new Piece("•", style)]), 7), (new Stack(Blocks(item, style)), 0)], 2)
        {
            Above = 2,
        };

    private static List<Piece> Legend(XElement legend, TextStyle style) =>
    [
        .. legend.Elements().SelectMany((item, at) => Pieces(item.Nodes(), style)
            .Select((piece, index) => at > 0 && index == 0 && piece.Sign is null
                ? piece with { Text = "   " + piece.Text } : piece)
            .Append(new Piece("    ", style))),
    ];

    private static List<Piece> Pieces(IEnumerable<XNode> nodes, TextStyle style)
    {
        var pieces = new List<Piece>();
        foreach (var node in nodes)
            if (node is XText text) pieces.Add(new Piece(text.Value.Replace('\n', ' '), style));
            else if (node is XElement { Name.LocalName: "svg" } sign) pieces.Add(new Piece("", style) { Sign = sign });
            else if (node is XElement element)
            {
                // The style sheet sets it apart by a margin.
                if (PaperStyle.Css(element) == "unit") pieces.Add(new Piece(" ", style));
                pieces.AddRange(Pieces(element.Nodes(), PaperStyle.Of(element, style)));
            }
        return pieces;
    }
}
