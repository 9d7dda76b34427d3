using SetupAudit.Datums;

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
}
