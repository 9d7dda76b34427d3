using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>An alarm that a print-out tells.</summary>
public sealed record Alarm
{
    public required DateTimeOffset AtUtc { get; init; }

    public string? Code { get; init; }

    public string? Text { get; init; }

    /// <summary>The configured kind, such as surface-not-found.</summary>
    public string? Kind { get; init; }

    public Register? Register { get; init; }

    public Axis? Axis { get; init; }

    public string? Feature { get; init; }

    public required SourceLine Source { get; init; }
}
