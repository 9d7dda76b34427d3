using System.Collections.Immutable;

namespace SetupAudit.Setups;

/// <summary>A setup that is over: whether it teaches, and what, so that a later review can change its mind.</summary>
/// <param name="UntilUtc">When the pallet's next setup opened.</param>
/// <param name="Taught">Its values are among the past values; else they are kept here.</param>
public sealed record GradedSetup(
    string Id, string? Pallet, DateTimeOffset OpenedUtc, DateTimeOffset UntilUtc, bool Taught)
{
    public required bool Judged { get; init; }

    public required ReviewBasis Basis { get; init; }

    public ImmutableList<PastValue> Lessons { get; init; } = [];
}
