using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>A rule that holds, with its evidence.</summary>
public sealed record Finding
{
    /// <summary>setup/rule/what, for example mill-3@20260302-071000/axis-not-set/G54.Z.</summary>
    public required string Id { get; init; }

    public required string Rule { get; init; }

    public required Severity Severity { get; init; }

    public required string Machine { get; init; }

    /// <summary>Null for a finding about an arrival or a source that belongs to no setup.</summary>
    public string? Setup { get; init; }

    public Register? Register { get; init; }

    public Axis? Axis { get; init; }

    public int? Tool { get; init; }

    public ToolPart? Of { get; init; }

    public decimal? Value { get; init; }

    /// <summary>What was expected: one value.</summary>
    public decimal? Expected { get; init; }

    /// <summary>What was expected: a range.</summary>
    public Bounds? ExpectedRange { get; init; }

    /// <summary>Unit of the value and of what was expected; null for the one that follows from axis and
    /// machine.</summary>
    public Unit? Unit { get; init; }

    /// <summary>One sentence a setter understands, with numbers and units.</summary>
    public required string Message { get; init; }

    /// <summary>The moment from which the rule held; never the time of processing.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    public IReadOnlyList<SourceLine> Evidence { get; init; } = [];

    public IReadOnlyList<Cause> Causes { get; init; } = [];
}
