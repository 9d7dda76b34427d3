using SetupAudit.Findings;
using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>One finding as a message tells it.</summary>
public sealed record AlertFinding
{
    public required string Id { get; init; }

    public string? Machine { get; init; }

    public string? Setup { get; init; }

    public required string Rule { get; init; }

    public required Severity Severity { get; init; }

    /// <summary>The finding's own sentence.</summary>
    public required string Message { get; init; }

    /// <summary>The moment from which the rule held.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>Whether it was sent before and no longer holds.</summary>
    public bool Cleared { get; init; }

    /// <summary>Why it no longer holds, in a sentence; null where it holds or nothing says why.</summary>
    public string? Because { get; init; }

    public IReadOnlyList<AlertMove> Moves { get; init; } = [];

    /// <summary>The likeliest ordinary mistake; null where none was weighed.</summary>
    public Cause? LikelyCause { get; init; }
}
