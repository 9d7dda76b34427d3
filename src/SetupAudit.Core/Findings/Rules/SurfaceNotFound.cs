using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A probing move reported no surface: an axis that it was to set does not count as set by it. A later good touch
/// withdraws it.
/// </summary>
internal sealed class SurfaceNotFound : IRule
{
    // What a control writes after a miss follows the alarm at once; a retry by a person takes longer.
    private static readonly TimeSpan SameMiss = TimeSpan.FromMinutes(1);

    public string Name => "surface-not-found";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        var alarms = setupCase.Setup.Alarms.Where(alarm => alarm.Kind == Name).ToList();
        return OfAxes(setupCase, alarms).Concat(OfUnknown(setupCase, alarms));
    }

    /// <summary>Misses of which the axis is known: from touches that only followed a miss, and from alarms.</summary>
    private IEnumerable<Finding> OfAxes(SetupCase setupCase, List<Alarm> alarms)
    {
        var setup = setupCase.Setup;
        var keys = setup.Touches.Where(touch => touch.Missed).Select(touch => touch.Key)
            .Concat(alarms.Select(Key).OfType<OffsetKey>()).Distinct().Order();
        foreach (var key in keys)
        {
            var goodUtc = setup.Touches.Where(touch => touch.Key == key && !touch.Missed)
                .Select(touch => (DateTimeOffset?)touch.AtUtc).Max();
            var touches = setup.Touches
                .Where(touch => touch.Key == key && touch.Missed && !(goodUtc >= touch.AtUtc)).ToList();
            var own = alarms.Where(alarm => Key(alarm) == key && !(goodUtc >= alarm.AtUtc)).ToList();
            if (touches.Count + own.Count == 0) continue;
            var heard = alarms.Where(alarm => own.Contains(alarm)
                || (Key(alarm) is null && touches.Exists(touch => IsSame(alarm, touch)))).ToList();
            var atUtc = touches.Select(touch => touch.AtUtc).Concat(own.Select(alarm => alarm.AtUtc)).Min();
            var message = $"A probing move met no surface at {setupCase.Told(atUtc)}{Says(heard)}: "
                + $"{Words.Name(key)} does not count as set by it, and no good touch has followed.";
            yield return setupCase.Raise(this, Severity.High, key, message, atUtc,
                touches.Select(touch => touch.Source).Concat(heard.Select(alarm => alarm.Source)));
        }
    }

    /// <summary>Misses that name no axis: any later good touch that they may have been for withdraws them.</summary>
    private IEnumerable<Finding> OfUnknown(SetupCase setupCase, List<Alarm> alarms) =>
        from alarm in alarms
        where Key(alarm) is null && !IsWithdrawn(setupCase.Setup, alarm)
            && !setupCase.Setup.Touches.Any(touch => touch.Missed && IsSame(alarm, touch))
        group alarm by Target(alarm) into same
        orderby same.Key
        select Unknown(setupCase, same.Key, [.. same.OrderBy(alarm => alarm.AtUtc)]);

    private Finding Unknown(SetupCase setupCase, string target, List<Alarm> alarms)
    {
        var first = alarms[0];
        var on = first.Feature is { } feature ? $" on {Words.Given(feature)}" : "";
        var within = first.Register is { } register ? $" in {register}" : "";
        var message = $"A probing move{on}{within} met no surface at {setupCase.Told(first.AtUtc)}"
            + $"{Says(alarms)}: what it was to set does not count as set by it, and no good touch has followed.";
        return setupCase.Raise(this, Severity.High, target, message, first.AtUtc, alarms.Select(alarm => alarm.Source))
            with
        { Register = first.Register };
    }

    private static OffsetKey? Key(Alarm alarm) => alarm is { Register: { } register, Axis: { } axis }
        ? OffsetKey.Datum(register, axis)
        : null;

    private static string Target(Alarm alarm) =>
        alarm.Feature is { } feature ? Words.InId(feature) : alarm.Register?.ToString() ?? "surface";

    private static bool IsSame(Alarm alarm, Touch touch) =>
        touch.AtUtc >= alarm.AtUtc && touch.AtUtc - alarm.AtUtc <= SameMiss;

    private static bool IsWithdrawn(Setup setup, Alarm alarm) =>
        setup.Touches.Any(touch => !touch.Missed && touch.AtUtc > alarm.AtUtc && MayBeFor(alarm, touch))
        || setup.Measurements.Any(measured => measured.AtUtc > alarm.AtUtc && alarm.Feature is { } feature
            && measured.Names(feature));

    private static bool MayBeFor(Alarm alarm, Touch touch) =>
        (alarm.Feature is null || touch.Feature is null
            || string.Equals(alarm.Feature, touch.Feature, StringComparison.OrdinalIgnoreCase))
        && (alarm.Register is not { } register || (touch.Key.IsDatum && touch.Key.Register == register))
        && (alarm.Axis is not { } axis || (touch.Key.IsDatum && touch.Key.Axis == axis));

    private static string Says(List<Alarm> alarms) =>
        alarms.Count == 0 || (alarms[0].Code ?? alarms[0].Text) is null
            ? ""
            : $" (alarm {Words.Given($"{alarms[0].Code} {alarms[0].Text}".Trim())})";
}
