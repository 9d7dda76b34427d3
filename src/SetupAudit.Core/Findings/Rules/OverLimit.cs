using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A change, or the sum of changes within a time, is beyond a configured limit, or a change left the value outside of
/// where it may stand. As a move a first sight never counts.
/// </summary>
internal sealed class OverLimit : IRule
{
    public string Name => "over-limit";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.Shop.Limits.Count == 0) return [];
        return from change in setupCase.Setup.Changes.Concat(setupCase.Setup.Adjustments)
               where !SetMarks.IsOfMassLoss(setupCase.Setup, change)
               group change by change.Key into moves
               orderby moves.Key
               from finding in OfKey(setupCase, moves.Key, [.. moves.OrderBy(change => change.ToUtc)])
               select finding;
    }

    private IEnumerable<Finding> OfKey(SetupCase setupCase, OffsetKey key, List<Change> all)
    {
        if (LimitMatch.Of(setupCase.Shop, setupCase.Machine, key) is not { } limit) return [];
        var held = new HeldChanges(setupCase, limit);
        var own = all.Where(change => HeldChanges.Counts(change) && held.Holds(change)).ToList();
        var moved = limit.Within is { } within
            ? Sums(setupCase, key, limit, within, own, held.Recent(key))
            : own.Where(change => limit.IsBeyond(change.Delta.GetValueOrDefault(), key, setupCase.Machine))
                .Select(change => Moved(setupCase, change, limit));
        return limit.Between is null ? moved : moved.Concat(Outside(setupCase, key, limit, all, held));
    }

    private Finding Moved(SetupCase setupCase, Change change, LimitConfig limit)
    {
        var moved = change.Delta.GetValueOrDefault();
        var message = $"{Words.Begin(Words.Name(change.Key))} moved by {Words.With(moved, change.Unit)} "
            + $"(from {Words.Number(change.Before.GetValueOrDefault())} to "
            + $"{Words.With(change.After.GetValueOrDefault(), change.Unit)}) by "
            + $"{setupCase.Told(change.ToUtc)}, beyond the limit of "
            + $"{LimitWords.OfChange(limit, limit.UnitOn(change.Key, setupCase.Machine))}.";
        return Raised(setupCase, change, limit, moved, message, [change.Source, change.BySource]);
    }

    /// <summary>Sums run on from the setup before; each run beyond the limit is told once, where it first is.</summary>
    private IEnumerable<Finding> Sums(SetupCase setupCase, OffsetKey key, LimitConfig limit, TimeSpan within,
        List<Change> own, IReadOnlyList<Change> recent)
    {
        var sums = new SlidingSum(within);
        var counted = new List<Change>(recent);
        foreach (var change in recent) sums.Add(change.ToUtc, change.Delta.GetValueOrDefault());
        var isBeyond = false;
        foreach (var change in own)
        {
            counted.Add(change);
            var moved = sums.Add(change.ToUtc, change.Delta.GetValueOrDefault(), limit.Direction);
            var wasBeyond = isBeyond;
            isBeyond = limit.IsBeyond(moved, key, setupCase.Machine);
            if (!isBeyond || wasBeyond) continue;
            var lines = counted.Where(other => change.ToUtc - other.ToUtc <= within).ToList();
            var message = $"{Words.Begin(Words.Name(key))} moved by {Words.With(moved, change.Unit)} in all within "
                + $"{Words.Span(within)} up to {setupCase.Told(change.ToUtc)} "
                + $"({Words.Count(lines.Count, "change")}), beyond the limit of "
                + $"{LimitWords.OfChange(limit, limit.UnitOn(key, setupCase.Machine))}.";
            yield return Raised(setupCase, change, limit, moved, message, lines.Select(other => other.Source));
        }
    }

    /// <summary>Each time the value leaves its bounds, or crosses from below them to above, is told once.</summary>
    private IEnumerable<Finding> Outside(
        SetupCase setupCase, OffsetKey key, LimitConfig limit, List<Change> all, HeldChanges held)
    {
        var side = all[0].Before is { } before ? limit.SideOf(before, key, setupCase.Machine) : 0;
        foreach (var change in all)
        {
            var was = side;
            side = change.After is { } after ? limit.SideOf(after, key, setupCase.Machine) : 0;
            if (side == 0 || side == was || change.After is not { } value || !held.Holds(change)) continue;
            var message = $"{Words.Begin(Words.Name(key))} stands at {Words.With(value, change.Unit)} since "
                + $"{setupCase.Told(change.ToUtc)}, outside the limits of "
                + $"{LimitWords.OfBounds(limit, limit.UnitOn(key, setupCase.Machine))}.";
            yield return setupCase.Raise(
                this, Severity.High, key, message, change.ToUtc, [change.Source, change.BySource]) with
            {
                Id = $"{setupCase.Setup.Id}/{Name}/{key}/stands",
                Value = value,
                ExpectedRange = OnMachine(setupCase, limit, key),
            };
        }
    }

    private Finding Raised(
        SetupCase setupCase, Change change, LimitConfig limit, decimal moved, string message,
        IEnumerable<SourceLine?> evidence) =>
        setupCase.Raise(this, Severity.High, change.Key, message, change.ToUtc, evidence) with
        {
            Value = moved,
            Expected = OnMachine(setupCase, limit, change.Key, limit.Change.GetValueOrDefault()),
        };

    private static Bounds? OnMachine(SetupCase setupCase, LimitConfig limit, OffsetKey key) =>
        limit.Between is { } bounds
            ? new Bounds(OnMachine(setupCase, limit, key, bounds.Low), OnMachine(setupCase, limit, key, bounds.High))
            : null;

    private static decimal OnMachine(SetupCase setupCase, LimitConfig limit, OffsetKey key, decimal value) =>
        Length.Convert(value, limit.UnitOn(key, setupCase.Machine), key.UnitOn(setupCase.Machine.Units));
}
