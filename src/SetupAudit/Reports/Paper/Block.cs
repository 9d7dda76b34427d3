using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>Something that takes a rectangle of a page.</summary>
internal abstract class Block
{
    /// <summary>Left empty above it, but at the top of a page.</summary>
    public double Above { get; init; }

    /// <summary>So much must follow it on the same page.</summary>
    public double KeepWith { get; init; }

    /// <summary>The width it would take if there were no end of room.</summary>
    public abstract double Natural(Ruler ruler);

    /// <summary>The width below which it breaks where it should not.</summary>
    public abstract double Least(Ruler ruler);

    public abstract double Height(Ruler ruler, double width);

    public abstract void Draw(XGraphics page, Ruler ruler, double x, double y, double width);

    /// <summary>
    /// What it may be broken into where it does not fit on a page, each as wide as the whole; empty where it is whole.
    /// </summary>
    public virtual IReadOnlyList<Block> Parts(Ruler ruler, double width) => [];

    /// <summary>Whether it is broken rather than moved to the next page, though it would fit there.</summary>
    public virtual bool Flows => false;

    /// <summary>What is drawn again where its parts go on at the top of a page.</summary>
    public virtual Block? Repeated(Ruler ruler, double width) => null;
}
