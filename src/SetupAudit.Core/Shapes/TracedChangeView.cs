using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Shapes;

/// <summary>One offset that may explain a part's error.</summary>
public sealed record TracedChangeView
{
    /// <summary>Null where the value stood from before anything was known.</summary>
    public required string? Change { get; init; }

    public required OffsetKey Key { get; init; }

    public required decimal Delta { get; init; }

    public required decimal Predicted { get; init; }

    public required decimal Residual { get; init; }

    public required string Along { get; init; }

    public required decimal Probability { get; init; }

    public required string Because { get; init; }

    /// <summary>The last moment that showed the value before; null where none did, or there is no change.</summary>
    public DateTimeOffset? FromUtc { get; init; }

    /// <summary>The first moment that showed the value after.</summary>
    public DateTimeOffset? ToUtc { get; init; }

    public ChangedBy? By { get; init; }

    /// <summary>The line that shows it; null where there is no change.</summary>
    public SourceLine? Source { get; init; }
}
