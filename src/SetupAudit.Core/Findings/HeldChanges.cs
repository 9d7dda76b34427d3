using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>Which changes of a setup, and of just before it, are held against a limit.</summary>
internal sealed class HeldChanges(SetupCase setupCase, LimitConfig limit)
{
    private readonly HashSet<string> _adjusted = [.. setupCase.Setup.Adjustments.Select(change => change.Id)];

    /// <summary>Whether a change moves anything at all.</summary>
    public static bool Counts(Change change) => !change.IsFirstSight && change.Delta is not null and not 0m;

    /// <summary>Whether a change of this setup was made when the limit holds.</summary>
    public bool Holds(Change change) => limit.Applies switch
    {
        LimitApplies.Running => _adjusted.Contains(change.Id) || IsWhileRunning(change),
        LimitApplies.Setup => !_adjusted.Contains(change.Id) && !IsWhileRunning(change),
        _ => true,
    };

    /// <summary>Changes of an offset before this setup, oldest first, from which sums run on.</summary>
    public IReadOnlyList<Change> Recent(OffsetKey key)
    {
        var recent = setupCase.RecentChanges.Where(change => change.Key == key && Counts(change));
        if (limit.Applies != LimitApplies.Always)
        {
            var running = (setupCase.Previous?.Adjustments ?? []).Select(change => change.Id).ToHashSet();
            recent = recent.Where(change => running.Contains(change.Id) == (limit.Applies == LimitApplies.Running));
        }
        return [.. recent.OrderBy(change => change.ToUtc)];
    }

    /// <summary>
    /// A change too large for an adjustment opens a setup of its own: it still counts as made while production ran
    /// where the job that ran goes on with it, and it came no later than a quiet time after a cycle.
    /// </summary>
    private bool IsWhileRunning(Change change) => setupCase.WasRunning(change.ToUtc);
}
