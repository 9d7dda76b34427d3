using System.Collections.Immutable;
using SetupAudit.Datums;

namespace SetupAudit.Changes;

/// <summary>Every register and tool offset of a machine as far as it is known; what is not in it is unsaid.</summary>
public sealed record OffsetTable(ImmutableSortedDictionary<OffsetKey, OffsetState> States)
{
    public static OffsetTable Empty { get; } = new(ImmutableSortedDictionary<OffsetKey, OffsetState>.Empty);

    /// <summary>The state of one offset; null where no source has shown it.</summary>
    public OffsetState? this[OffsetKey key] => States.GetValueOrDefault(key);

    public decimal? Value(OffsetKey key) => this[key]?.Value;

    public decimal? Value(Register register, Axis axis) => Value(OffsetKey.Datum(register, axis));

    /// <summary>The registers that any source has shown, in the order people list them.</summary>
    public IEnumerable<Register> Registers =>
        States.Keys.Where(key => key.IsDatum).Select(key => key.Register).Distinct().Order();

    public IEnumerable<int> Tools => States.Keys.Where(key => key.IsTool).Select(key => key.Tool).Distinct().Order();

    /// <summary>The axes of a register that have been shown, in order.</summary>
    public IEnumerable<OffsetKey> Keys(Register register) =>
        States.Keys.Where(key => key.IsDatum && key.Register == register);

    public OffsetTable With(OffsetKey key, OffsetState state) => new(States.SetItem(key, state));
}
