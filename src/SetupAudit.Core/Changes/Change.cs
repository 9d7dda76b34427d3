using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Units;

namespace SetupAudit.Changes;

/// <summary>A register or tool offset moved, at a moment in (<see cref="FromUtc"/>, <see cref="ToUtc"/>].</summary>
public sealed record Change
{
    /// <summary>machine@moment/key, for example mill-3@20260302-071420/G54.X.</summary>
    public required string Id { get; init; }

    public required string Machine { get; init; }

    public required OffsetKey Key { get; init; }

    /// <summary>Null where nothing was known before: a first sight, which sets nothing and opens no setup.</summary>
    public decimal? Before { get; init; }

    /// <summary>Null where the control is known to hold no value any more.</summary>
    public decimal? After { get; init; }

    public decimal? Delta => After - Before;

    public required Unit Unit { get; init; }

    /// <summary>The last moment the old value was shown; null where none was.</summary>
    public DateTimeOffset? FromUtc { get; init; }

    /// <summary>The first moment the new value was shown.</summary>
    public required DateTimeOffset ToUtc { get; init; }

    public required string Arrival { get; init; }

    public required SourceLine Source { get; init; }

    public ChangedBy By { get; init; }

    /// <summary>What says so, in words: "print-out line 14, feature corner-1".</summary>
    public string? BySays { get; init; }

    /// <summary>The print-out line, program block or file that says by what; null where nothing does.</summary>
    public SourceLine? BySource { get; init; }

    /// <summary>
    /// Where a print-out line explains the change: that line's moment, which lies in (<see cref="FromUtc"/>,
    /// <see cref="ToUtc"/>] and is the truer word of when; null where nothing tells the moment.
    /// </summary>
    public DateTimeOffset? ByUtc { get; init; }

    /// <summary>A print-out says the axis was touched; the value may be the same as before.</summary>
    public bool Touched { get; init; }

    /// <summary>
    /// The value went back, to the last digit, to an older state of itself: when that state was last shown.
    /// </summary>
    public DateTimeOffset? SameAsUtc { get; init; }

    /// <summary>Id of the setup the change belongs to; null for a first sight outside any.</summary>
    public string? Setup { get; init; }

    public bool IsFirstSight => Before is null && !Touched;
}
