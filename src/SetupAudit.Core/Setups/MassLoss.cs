using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>Most registers or tools vanished or fell to zero together, or came back together.</summary>
public sealed record MassLoss
{
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>"registers" or "tools".</summary>
    public required string What { get; init; }

    /// <summary>How many lost their values (or had them back).</summary>
    public required int Count { get; init; }

    /// <summary>Of how many that held values.</summary>
    public required int Of { get; init; }

    /// <summary>They came back to old values; else they were lost.</summary>
    public bool Returned { get; init; }

    public required SourceLine Source { get; init; }
}
