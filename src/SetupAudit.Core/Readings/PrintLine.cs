using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>One line of a print-out that matched a configured pattern; what the line did not say is null.</summary>
public sealed record PrintLine
{
    public required int Line { get; init; }

    public required PrintMeaning Means { get; init; }

    /// <summary>The line's own time in UTC; null where it has none.</summary>
    public DateTimeOffset? AtUtc { get; init; }

    /// <summary>Program name with leading zeros dropped.</summary>
    public string? Program { get; init; }

    public string? Feature { get; init; }

    public Register? Register { get; init; }

    public Axis? Axis { get; init; }

    public decimal? Value { get; init; }

    public decimal? X { get; init; }

    public decimal? Y { get; init; }

    public decimal? Z { get; init; }

    public decimal? Size { get; init; }

    /// <summary>In degrees.</summary>
    public decimal? Angle { get; init; }

    public decimal? Nominal { get; init; }

    public decimal? Low { get; init; }

    public decimal? High { get; init; }

    public decimal? Deviation { get; init; }

    public int? Tool { get; init; }

    /// <summary>
    /// For tool-set: which part of the tool the line is configured to tell; length where it does not say.
    /// </summary>
    public ToolPart? Of { get; init; }

    public string? Code { get; init; }

    public string? Text { get; init; }

    public string? Setter { get; init; }

    public string? Pallet { get; init; }

    public string? Part { get; init; }

    public string? Serial { get; init; }

    public string? Order { get; init; }

    public string? Operation { get; init; }

    public int? Count { get; init; }

    /// <summary>The configured kind of an alarm, such as surface-not-found.</summary>
    public string? Kind { get; init; }

    /// <summary>
    /// Who the pattern says makes such a change ("measured", "entered", ...); null where the pattern does not say.
    /// </summary>
    public string? By { get; init; }
}
