using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>An offset that may explain a part error.</summary>
public sealed record TracedChange
{
    /// <summary>Id of the change that brought the value; null where it stood from before anything was known.</summary>
    public required string? Change { get; init; }

    public required OffsetKey Key { get; init; }

    /// <summary>What stood minus what should have stood, in the machine's unit.</summary>
    public required decimal Delta { get; init; }

    /// <summary>The part error it predicts, along <see cref="Along"/>.</summary>
    public required decimal Predicted { get; init; }

    /// <summary>The measured error minus the predicted one.</summary>
    public required decimal Residual { get; init; }

    /// <summary>"X", "Y", "Z" or "diameter".</summary>
    public required string Along { get; init; }

    public required decimal Probability { get; init; }

    public required string Because { get; init; }

    public required bool Stale { get; init; }
}
