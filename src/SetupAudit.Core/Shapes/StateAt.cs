using SetupAudit.Datums;

namespace SetupAudit.Shapes;

/// <summary>
/// Works out how every offset of a machine stood at a moment, from its changes in order, first sights included.
/// </summary>
public sealed class StateAt(DateTimeOffset momentUtc)
{
    private readonly SortedDictionary<OffsetKey, ChangeView> _stands = [];
    private readonly Dictionary<OffsetKey, ChangeView> _next = [];

    /// <summary>Takes the next change in the order of their moments.</summary>
    public void Take(ChangeView change)
    {
        if (change.ToUtc <= momentUtc) _stands[change.Key] = change;
        // A print-out tells the moment of a touch; what only a dump shows may have changed since the last one.
        else if (change.FromUtc < momentUtc && !change.Touched) _next.TryAdd(change.Key, change);
    }

    /// <summary>What no change had shown by then is not in it: unsaid, neither zero nor unchanged.</summary>
    public IReadOnlyList<StandingView> Offsets =>
        [.. _stands.Values.Select(change => new StandingView(change, _next.GetValueOrDefault(change.Key)))];
}
