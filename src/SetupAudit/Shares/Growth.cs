namespace SetupAudit.Shares;

/// <summary>How far a print-out was taken: all whole lines before <see cref="OffsetBytes"/>.</summary>
internal sealed record Growth
{
    public static readonly Growth None = new();

    /// <summary>Tells the first <see cref="OffsetBytes"/> bytes from any others.</summary>
    public PrefixMark Mark { get; init; }

    /// <summary>Line ends before the offset.</summary>
    public int Lines { get; init; }

    public TextWidth Width { get; init; }

    /// <summary>The last byte taken was a carriage return: a line feed that follows belongs to it.</summary>
    public bool EndsInReturn { get; init; }

    /// <summary>Something lay behind the offset: a last line that is not finished.</summary>
    public bool HasTail { get; init; }

    /// <summary>The file's time at the take before the last: what the tail is certainly younger than.</summary>
    public DateTime? BeforeUtc { get; init; }

    /// <summary>
    /// How far the file was taken that lay under this name before it was rewritten: it may turn up elsewhere.
    /// </summary>
    public FormerText? Former { get; init; }

    public long OffsetBytes => Mark.OffsetBytes;
}
