using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A change, or the sum of changes within a time, is beyond a configured limit. First sights never count.
/// </summary>
internal sealed class OverLimit : IRule
{
    public string Name => "over-limit";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.Shop.Limits.Count == 0) return [];
        var adjusted = setupCase.Setup.Adjustments.Select(change => change.Id).ToHashSet();
        return from change in Counted(setupCase)
               group change by change.Key into moves
               orderby moves.Key
               from finding in OfKey(setupCase, moves.Key, [.. moves.OrderBy(change => change.ToUtc)], adjusted)
               select finding;
    }

    private IEnumerable<Finding> OfKey(
        SetupCase setupCase, OffsetKey key, List<Change> own, HashSet<string> adjusted)
    {
        if (LimitMatch.Of(setupCase.Shop, setupCase.Machine, key) is not { } limit) return [];
        if (limit.WhileRunning)
            own = [.. own.Where(change => adjusted.Contains(change.Id) || IsWhileRunning(setupCase, change))];
        return limit.Within is { } within
            ? Sums(setupCase, key, limit, within, own)
            : own.Where(change => limit.IsBeyond(change.Delta.GetValueOrDefault(), key, setupCase.Machine))
                .Select(change => Found(setupCase, change, limit));
    }

    private Finding Found(SetupCase setupCase, Change change, LimitConfig limit)
    {
        var moved = change.Delta.GetValueOrDefault();
        var message = $"{Words.Begin(Words.Name(change.Key))} moved by {Words.With(moved, change.Unit)} "
            + $"(from {Words.Number(change.Before.GetValueOrDefault())} to "
            + $"{Words.With(change.After.GetValueOrDefault(), change.Unit)}) by "
            + $"{setupCase.Told(change.ToUtc)}, beyond the limit of "
            + $"{Says(setupCase, limit, change.Key)}.";
        return Raised(setupCase, change, limit, moved, message, [change.Source, change.BySource]);
    }

    /// <summary>Sums run on from the setup before; each run beyond the limit is told once, where it first is.</summary>
    private IEnumerable<Finding> Sums(
        SetupCase setupCase, OffsetKey key, LimitConfig limit, TimeSpan within, List<Change> own)
    {
        var sums = new SlidingSum(within);
        var counted = Recent(setupCase, key, limit);
        foreach (var change in counted) sums.Add(change.ToUtc, change.Delta.GetValueOrDefault());
        var isBeyond = false;
        foreach (var change in own)
        {
            counted.Add(change);
            var moved = sums.Add(change.ToUtc, change.Delta.GetValueOrDefault());
            var wasBeyond = isBeyond;
            isBeyond = limit.IsBeyond(moved, key, setupCase.Machine);
            if (!isBeyond || wasBeyond) continue;
            var lines = counted.Where(other => change.ToUtc - other.ToUtc <= within).ToList();
            var message = $"{Words.Begin(Words.Name(key))} moved by {Words.With(moved, change.Unit)} in all within "
                + $"{Words.Span(within)} up to {setupCase.Told(change.ToUtc)} "
                + $"({Words.Count(lines.Count, "change")}), beyond the limit of {Says(setupCase, limit, key)}.";
            yield return Raised(setupCase, change, limit, moved, message, lines.Select(other => other.Source));
        }
    }

    private static List<Change> Recent(SetupCase setupCase, OffsetKey key, LimitConfig limit)
    {
        var recent = setupCase.RecentChanges.Where(change => change.Key == key && Counts(change));
        if (limit.WhileRunning)
        {
            var running = (setupCase.Previous?.Adjustments ?? []).Select(change => change.Id).ToHashSet();
            recent = recent.Where(change => running.Contains(change.Id));
        }
        return [.. recent.OrderBy(change => change.ToUtc)];
    }

    private Finding Raised(
        SetupCase setupCase, Change change, LimitConfig limit, decimal moved, string message,
        IEnumerable<Evidence.SourceLine?> evidence) =>
        setupCase.Raise(this, Severity.High, change.Key, message, change.ToUtc, evidence) with
        {
            Value = moved,
            Expected = change.Key.IsLinear || change.Key.IsTool
                ? Length.Convert(limit.Change, limit.UnitOn(change.Key, setupCase.Machine), setupCase.Machine.Units)
                : limit.Change,
        };

    private static IEnumerable<Change> Counted(SetupCase setupCase) =>
        setupCase.Setup.Changes.Concat(setupCase.Setup.Adjustments)
            .Where(change => Counts(change) && !SetMarks.IsOfMassLoss(setupCase.Setup, change));

    private static bool Counts(Change change) => !change.IsFirstSight && change.Delta is not null and not 0m;

    /// <summary>
    /// A change too large for an adjustment opens a setup of its own: it still counts as made while production ran
    /// where the job that ran goes on with it, and it came no later than a quiet time after a cycle.
    /// </summary>
    private static bool IsWhileRunning(SetupCase setupCase, Change change)
    {
        if (setupCase.Previous is not { ClosedUtc: not null } previous) return false;
        if (setupCase.Setup.Programs.Count != 1) return false;
        var quiet = TimeSpan.FromMinutes(setupCase.Shop.Setups.QuietMinutes);
        return previous.Cycles.Any(cycle => cycle.Program == setupCase.Setup.Programs[0]
            && change.ToUtc >= cycle.StartUtc && change.ToUtc - (cycle.EndUtc ?? cycle.StartUtc) <= quiet);
    }

    private static string Says(SetupCase setupCase, LimitConfig limit, OffsetKey key) =>
        Words.With(limit.Change, limit.UnitOn(key, setupCase.Machine))
        + (limit.WhileRunning ? " while production runs" : "");
}
