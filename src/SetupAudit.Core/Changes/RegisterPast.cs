using System.Collections.Immutable;
using SetupAudit.Datums;

namespace SetupAudit.Changes;

/// <summary>A state a register was in once: the values of its axes, and when that state was last shown.</summary>
public sealed record RegisterPast(ImmutableSortedDictionary<OffsetKey, decimal?> Values, DateTimeOffset ShownUtc)
{
    /// <summary>The register as a table has it now.</summary>
    public static RegisterPast Of(OffsetTable table, Register register)
    {
        var states = table.Keys(register).Select(key => (Key: key, State: table[key]!)).ToList();
        return new RegisterPast(
            states.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.State.Value),
            states.Count == 0 ? DateTimeOffset.MinValue : states.Max(pair => pair.State.ShownUtc));
    }

    /// <summary>Equal to the last digit in every axis, and not simply empty.</summary>
    public bool Matches(RegisterPast other) =>
        Values.Count == other.Values.Count && Values.Values.Any(value => value is not null and not 0m)
        && Values.All(pair => other.Values.TryGetValue(pair.Key, out var value) && value == pair.Value);
}
