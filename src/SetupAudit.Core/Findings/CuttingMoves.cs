using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>
/// Weighs each change against the cycles it may have been made in (contract section 6, changed-while-cutting).
/// </summary>
internal sealed class CuttingMoves(SetupCase setupCase, CycleSpans spans)
{
    private readonly IReadOnlyList<SetMark> _marks = SetMarks.Of(setupCase);
    private readonly IReadOnlyList<Interruption> _interruptions = Interruption.Of(setupCase);
    private readonly Dictionary<OffsetKey, List<Touch>> _touches = setupCase.Setup.Touches
        .Where(touch => !touch.Missed).GroupBy(touch => touch.Key)
        .ToDictionary(group => group.Key, group => group.OrderBy(touch => touch.AtUtc).ToList());

    private readonly TimeSpan _quiet = TimeSpan.FromMinutes(setupCase.Shop.Setups.QuietMinutes);

    /// <summary>Null where nothing is amiss with the change.</summary>
    public CuttingMove? Weigh(Change change)
    {
        if (change.IsFirstSight || change.Delta == 0m || change.By == ChangedBy.Program) return null;
        if (SetMarks.IsOfMassLoss(setupCase.Setup, change)) return null;
        if (MeasuredAgain(change) is { } again) return again;
        var toldUtc = change.Touched ? change.ToUtc : change.ByUtc;
        var (fromUtc, toUtc) = (toldUtc ?? change.FromUtc ?? change.ToUtc, toldUtc ?? change.ToUtc);
        // A touch told within a cycle was made by the program that ran, one told outside was not made while cutting:
        // only an entry by a person is left.
        if (Touch(change, fromUtc, toUtc) is { } touch && (touch.Cycle is null || change.By != ChangedBy.Entered))
            return null;
        return spans.Holding(fromUtc, toUtc) is { } span
            ? Certain(change, span)
            : Uncertain(change, fromUtc, toUtc);
    }

    private CuttingMove? Certain(Change change, CycleSpan span)
    {
        var calls = ProgramTouch.Calls(span.Use, change.Key);
        var writes = ProgramTouch.Writes(span.Use, change.Key);
        if (calls == false || writes == true) return null;
        if (change.Key.IsWear && IsWithinLimit(change))
            return new CuttingMove(change, span, Severity.Note) { IsCertain = true };
        if (calls == true && writes == false) return new CuttingMove(change, span, Severity.Stop) { IsCertain = true };
        // The first time an axis is set, in a cycle of a program that is not known in full, is that program's probing.
        if (IsFirstSetting(change)) return null;
        return new CuttingMove(change, span, IsLarge(change) ? Severity.High : Severity.Low)
        {
            IsCertain = true,
            IsKnown = false,
        };
    }

    private CuttingMove? Uncertain(Change change, DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        if (change.Key.IsWear || !IsLarge(change) || SetMarks.IsOfLift(setupCase.Setup, change)) return null;
        var touching = spans.Touching(fromUtc, toUtc);
        if (touching.Count == 0) return null;
        var span = touching[^1];
        var calls = ProgramTouch.Calls(span.Use, change.Key);
        var writes = ProgramTouch.Writes(span.Use, change.Key);
        if (calls == false || writes == true || IsOfSettingUp(change, fromUtc, toUtc, touching)) return null;
        return new CuttingMove(change, span, Severity.High) { IsKnown = calls is not null && writes is not null };
    }

    /// <summary>
    /// Whether the interval has room for a setup, so that the cycles in it say nothing: another program took over, the
    /// machine stood for a quiet time, or the job's first cycle began and the offset had not been set before.
    /// </summary>
    private bool IsOfSettingUp(
        Change change, DateTimeOffset fromUtc, DateTimeOffset toUtc, IReadOnlyList<CycleSpan> touching)
    {
        var program = touching[^1].Program;
        if (touching.Any(span => span.Program != program)) return true;
        if (spans.Next(toUtc) is { } next && next.Program != program) return true;
        if (LongestPause(fromUtc, toUtc, touching) >= _quiet) return true;
        var begins = touching[0].StartUtc > fromUtc
            && spans.Started(fromUtc)?.Program != program;
        return begins && !WasSetBefore(change, touching[0].StartUtc);
    }

    private static TimeSpan LongestPause(
        DateTimeOffset fromUtc, DateTimeOffset toUtc, IReadOnlyList<CycleSpan> touching)
    {
        var (longest, freeUtc) = (TimeSpan.Zero, fromUtc);
        foreach (var span in touching)
        {
            if (span.StartUtc - freeUtc > longest) longest = span.StartUtc - freeUtc;
            if (span.EndUtc > freeUtc) freeUtc = span.EndUtc;
        }
        return toUtc - freeUtc > longest ? toUtc - freeUtc : longest;
    }

    /// <summary>The offset, or another axis of its register, was set before cutting began: this came on top.</summary>
    private bool WasSetBefore(Change change, DateTimeOffset cuttingUtc) => _marks.Any(mark =>
        mark.AtUtc <= cuttingUtc && mark.Source != change.Source
        && (mark.Key == change.Key
            || (change.Key.IsDatum && mark.Key.IsDatum && mark.Key.Register == change.Key.Register)));

    private bool IsFirstSetting(Change change) =>
        !(change.ToUtc > setupCase.Setup.ClosedUtc)
        && !setupCase.Setup.Changes.Any(other =>
            other.Key == change.Key && !other.IsFirstSight && other.ToUtc < change.ToUtc);

    /// <summary>A tool measured within a quiet time of an alarm or stop, before the next cycle began.</summary>
    private CuttingMove? MeasuredAgain(Change change)
    {
        if (!change.Key.IsTool || change.Key.IsWear) return null;
        if (change.By is ChangedBy.Entered or ChangedBy.Restored) return null;
        var atUtc = change.Touched ? change.ToUtc : change.ByUtc ?? change.ToUtc;
        if (_interruptions.LastOrDefault(stop => stop.AtUtc <= atUtc) is not { } last) return null;
        if (atUtc - last.AtUtc > _quiet) return null;
        if (spans.Started(atUtc) is not { } span || span.StartUtc > last.AtUtc) return null;
        if (ProgramTouch.Calls(span.Use, change.Key) == false) return null;
        return new CuttingMove(change, span, Severity.Low)
        {
            Interrupted = $"{last.What} at {setupCase.Told(last.AtUtc, change.ToUtc)}",
            InterruptedSource = last.Source,
        };
    }

    /// <summary>The last touch of the offset in [from, to]; found by halving, for a long job has thousands.</summary>
    private Touch? Touch(Change change, DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        if (!_touches.TryGetValue(change.Key, out var touches)) return null;
        var (low, high) = (0, touches.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (touches[middle].AtUtc <= toUtc) low = middle + 1;
            else high = middle;
        }
        return low > 0 && touches[low - 1].AtUtc >= fromUtc ? touches[low - 1] : null;
    }

    // A limit that says nothing of such a change leaves it to AdjustmentLimit.
    private bool IsWithinLimit(Change change) =>
        LimitMatch.Of(setupCase.Shop, setupCase.Machine, change.Key) is { Change: not null } limit
            && limit.Applies != LimitApplies.Setup && limit.Limits(change.Delta.GetValueOrDefault())
            ? !limit.IsBeyond(change.Delta.GetValueOrDefault(), change.Key, setupCase.Machine)
            : !IsLarge(change);

    // The limit is a length; for a rotary axis its number serves in degrees. A value that was lost is no adjustment.
    private bool IsLarge(Change change)
    {
        if (change.Delta is not { } delta) return true;
        var limit = setupCase.Shop.Setups.AdjustmentLimit;
        return change.Unit == Unit.Inch
            ? Math.Abs(delta) * Length.MillimetresPerInch > limit
            : Math.Abs(delta) > limit;
    }
}
