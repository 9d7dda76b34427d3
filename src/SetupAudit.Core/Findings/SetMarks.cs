using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>
/// What a setup set, up to a moment. A first sight sets nothing, nor does a touch that found no
/// surface, a Z raised and put back, a loss of memory or its return.
/// </summary>
internal static class SetMarks
{
    private const string SurfaceNotFound = "surface-not-found";

    /// <summary>What may have been set by the moment the setup is judged at; all of it while it is not.</summary>
    public static IReadOnlyList<SetMark> Of(SetupCase setupCase) =>
        Until(setupCase, setupCase.JudgedAt() ?? DateTimeOffset.MaxValue);

    /// <summary>
    /// What may have been set by the time the last program came to hand: not all that production adjusted.
    /// </summary>
    public static IReadOnlyList<SetMark> OfAnyProgram(SetupCase setupCase, DateTimeOffset judgedUtc) =>
        Until(setupCase, setupCase.Programs.Select(use => use.AtUtc).Append(judgedUtc).Max());

    /// <summary>What may have been set by a moment, in order.</summary>
    public static IReadOnlyList<SetMark> Until(SetupCase setupCase, DateTimeOffset momentUtc)
    {
        var setup = setupCase.Setup;
        var touches = setup.Touches.Where(touch => !touch.Missed && touch.AtUtc <= momentUtc)
            .Select(touch => new SetMark(touch.Key, null, touch.AtUtc, "print-out", touch.Source));
        var changes = from change in setup.Changes.Concat(setup.Adjustments)
                      let mark = Mark(change)
                      where mark.MayBeBy(momentUtc) && Sets(setup, change)
                      select mark;
        return [.. touches.Concat(changes).OrderBy(mark => mark.AtUtc).ThenBy(mark => mark.Key)];
    }

    /// <summary>Whether the change is one that sets its offset, for whatever moment.</summary>
    public static bool Sets(Setup setup, Change change) =>
        !change.IsFirstSight && change.After is not null && !IsOfLift(setup, change) && !IsOfMassLoss(setup, change)
        && !IsMissed(setup, change);

    /// <summary>Whether the change raises a Z for a dry run, or puts it back to where it was.</summary>
    public static bool IsOfLift(Setup setup, Change change) => !change.Touched && setup.Lifts.Any(lift =>
        lift.Key == change.Key && change.ToUtc >= lift.RaisedUtc
        && (lift.PutUtc is not { } putUtc || change.ToUtc < putUtc
            || (change.ToUtc == putUtc && lift.PutTo == lift.Start)));

    /// <summary>Whether the change is one of many that a loss of memory, or its return, made together.</summary>
    public static bool IsOfMassLoss(Setup setup, Change change) => setup.MassLosses.Any(loss =>
        loss.AtUtc == change.ToUtc && loss.What == (change.Key.IsTool ? "tools" : "registers")
        && (loss.Returned || change.After is null or 0m));

    /// <summary>
    /// Whether the value is what a search that met no surface left behind: the miss lies in the change's interval and
    /// no good touch of the same offset between it and the change.
    /// </summary>
    private static bool IsMissed(Setup setup, Change change) =>
        change.By != ChangedBy.Entered && Misses(setup, change.Key).Any(missUtc =>
            missUtc <= change.ToUtc && (change.FromUtc is not { } fromUtc || missUtc >= fromUtc)
            && !setup.Touches.Any(touch => touch.Key == change.Key && !touch.Missed
                && touch.AtUtc > missUtc && touch.AtUtc <= change.ToUtc));

    private static IEnumerable<DateTimeOffset> Misses(Setup setup, OffsetKey key) =>
        setup.Touches.Where(touch => touch.Missed && touch.Key == key).Select(touch => touch.AtUtc)
            .Concat(setup.Alarms
                .Where(alarm => alarm.Kind == SurfaceNotFound && key.IsDatum
                    && alarm.Register == key.Register && alarm.Axis == key.Axis)
                .Select(alarm => alarm.AtUtc));

    private static SetMark Mark(Change change)
    {
        var toldUtc = change.Touched ? change.ToUtc : change.ByUtc;
        return toldUtc is { } atUtc
            ? new SetMark(change.Key, null, atUtc, How(change), change.BySource ?? change.Source)
            : new SetMark(change.Key, change.FromUtc, change.ToUtc, How(change), change.Source);
    }

    private static string How(Change change) => change switch
    {
        { Touched: true } or { ByUtc: not null } => "print-out",
        { By: ChangedBy.Program } => "program",
        _ => "dump",
    };
}
