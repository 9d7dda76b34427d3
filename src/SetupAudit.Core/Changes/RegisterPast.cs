using System.Collections.Immutable;
using SetupAudit.Datums;

namespace SetupAudit.Changes;

/// <summary>A state a register was in once: the values of its axes, and when that state was last shown.</summary>
public sealed record RegisterPast(ImmutableSortedDictionary<OffsetKey, decimal?> Values, DateTimeOffset ShownUtc)
{
    /// <summary>The register as a table has it now.</summary>
    public static RegisterPast Of(OffsetTable table, Register register)
    {
        var values = ImmutableSortedDictionary.CreateBuilder<OffsetKey, decimal?>();
        var shown = DateTimeOffset.MinValue;
        foreach (var key in table.Keys(register))
        {
            if (table[key] is not { } state) continue;
            values[key] = state.Value;
            if (state.ShownUtc > shown) shown = state.ShownUtc;
        }
        return new RegisterPast(values.ToImmutable(), shown);
    }

    /// <summary>Equal to the last digit in every axis, and not simply empty.</summary>
    public bool Matches(RegisterPast other) =>
        Values.Count == other.Values.Count && Values.Values.Any(value => value is not null and not 0m)
        && Values.All(pair => other.Values.TryGetValue(pair.Key, out var value) && value == pair.Value);
}
