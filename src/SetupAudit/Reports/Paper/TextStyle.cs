using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>How a piece of text is set: its size in points, its ink, and which of the three faces.</summary>
internal sealed record TextStyle(double Size, XColor Ink)
{
    public bool IsBold { get; init; }

    public bool IsMono { get; init; }

    /// <summary>Set against the right edge, as numbers in a column are.</summary>
    public bool IsRight { get; init; }

    public bool IsUpper { get; init; }

    /// <summary>From one base line to the next, in sizes.</summary>
    public double Leading { get; init; } = 1.38;

    public double LineHeight => Size * Leading;
}
