using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>How a kind of table is set.</summary>
internal sealed record TableLook
{
    public double PadX { get; init; } = 5;

    public double PadY { get; init; } = 2.5;

    /// <summary>Every cell has an outline.</summary>
    public bool IsGrid { get; init; }

    /// <summary>A line under each row.</summary>
    public bool IsRuled { get; init; }

    /// <summary>The heading cells of rows are not broken.</summary>
    public bool KeepsNames { get; init; }

    /// <summary>The share of the first column; null where the cells say it.</summary>
    public double? First { get; init; }

    /// <summary>What is left over goes to the last column; else each gets as much of it.</summary>
    public bool LastTakesRest { get; init; }

    /// <summary>A table of no more rows than this is not broken where it fits on the next page.</summary>
    public int RowsWhole { get; init; } = 4;

    public static XPen Hair { get; } = new(Inks.Line, 0.7);

    /// <summary>The columns' widths, from what they would take and what they need.</summary>
    public IReadOnlyList<double> Share(IReadOnlyList<double> natural, IReadOnlyList<double> least, double width)
    {
        if (natural.Count == 0) return [];
        if (First is { } first && natural.Count > 1)
            return [width * first, .. Enumerable.Repeat(width * (1 - first) / (natural.Count - 1), natural.Count - 1)];
        var rest = width - natural.Sum();
        if (rest >= 0 && LastTakesRest) return [.. natural.SkipLast(1), natural[^1] + rest];
        if (rest >= 0) return [.. natural.Select(wide => wide + rest / natural.Count)];
        // Too wide: those that are over their share of the room give, none below what it needs.
        var spare = width - least.Sum();
        if (spare <= 0) return [.. least.Select(wide => wide * width / least.Sum())];
        var wish = natural.Zip(least, (wide, need) => wide - need).Sum();
        return [.. natural.Zip(least, (wide, need) => need + (wide - need) * spare / wish)];
    }
}
