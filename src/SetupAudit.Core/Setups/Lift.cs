using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>A Z raised before production, as for a dry run above the part.</summary>
public sealed record Lift
{
    /// <summary>Z of a register, or of the common offset.</summary>
    public required OffsetKey Key { get; init; }

    /// <summary>The value before it was raised.</summary>
    public required decimal Start { get; init; }

    public required decimal Raised { get; init; }

    /// <summary>The value it was brought to afterwards; null while it stands.</summary>
    public decimal? PutTo { get; init; }

    public required DateTimeOffset RaisedUtc { get; init; }

    public DateTimeOffset? PutUtc { get; init; }

    public required SourceLine RaisedSource { get; init; }

    public SourceLine? PutSource { get; init; }
}
