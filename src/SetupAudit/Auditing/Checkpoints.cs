using SetupAudit.Folding;

namespace SetupAudit.Auditing;

/// <summary>
/// States of a fold at several places, so that what comes a little late winds it back a little. They share nearly all
/// they hold; of many, every second of the older half is let go.
/// </summary>
internal sealed class Checkpoints
{
    private const int Most = 64;

    private readonly List<MachineState> _states = [];

    /// <summary>Keeps a state that lies behind all those kept.</summary>
    public void Add(MachineState state)
    {
        if (_states.Count > 0 && _states[^1].Position >= state.Position) return;
        _states.Add(state);
        if (_states.Count <= Most) return;
        for (var index = Most / 2; index > 0; index -= 2) _states.RemoveAt(index);
    }

    /// <summary>The latest that has not seen a place yet; null where none is kept.</summary>
    public MachineState? Before(FoldPosition place) => _states.FindLast(state => state.Position < place);

    /// <summary>Lets go of what has seen a place.</summary>
    public void ForgetFrom(FoldPosition place) => _states.RemoveAll(state => state.Position >= place);

    public void Clear() => _states.Clear();
}
