using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>Mistakes that bring in values which are right somewhere else, or were right once; and a lift that
/// stays.</summary>
internal static class TakenFrom
{
    public static Slip? OtherRegister(Scene scene, Dice dice)
    {
        var others = scene.Job.Datums.Where(datum => datum.Register != scene.Datum.Register).ToList();
        if (others.Count > 0 && dice.Chance(0.5))
        {
            // The touch was right and meant for the other datum of the job.
            var meant = dice.Pick(others).Register;
            return scene.Slip("other-register", SlipWay.AtTheTouch, scene.Axes,
                key => (double)scene.Should(OffsetKey.Datum(meant, key.Axis)));
        }
        var registers = scene.Before.Keys.Where(key => key.IsDatum && key.Register != scene.Datum.Register)
            .Select(key => key.Register).Distinct().ToList();
        if (registers.Count == 0) return null;
        var copied = dice.Pick(registers);
        return scene.Slip("other-register", SlipWay.Typed, scene.OneOrAll(dice, 0.2),
            key => (double)scene.Before[OffsetKey.Datum(copied, key.Axis)]);
    }

    /// <summary>An old dump was loaded: the register, or all, is back at what another job left.</summary>
    public static Slip? Older(Scene scene, Dice dice)
    {
        var states = scene.History.States
            .Where(state => state.Job != scene.Job && state.Job.Datums.Any(datum => datum.Register == scene.Datum.Register))
            // A state as good as the one that stood before is seen by nobody: nothing but a small adjustment shows.
            .Where(state => scene.Axes.Any(
                key => Math.Abs(state.Control[key] - scene.Before[key]) > 0.25m * (decimal)scene.Machine.Mm))
            .ToList();
        if (states.Count == 0) return null;
        var old = dice.Pick(states).Control;
        var whole = dice.Chance(0.4);
        var back = old.Where(pair => pair.Key.IsDatum && (whole || pair.Key.Register == scene.Datum.Register));
        return new Slip("older-values", back.ToDictionary(pair => pair.Key, pair => pair.Value), SlipWay.Afterwards);
    }

    /// <summary>Z was raised for a run above the part and not put back.</summary>
    public static Slip? Lift(Scene scene, Dice dice)
    {
        double[] steps = scene.Machine.Mm == 1 ? [10, 20, 25, 50, 50, 100, 100] : [0.5, 1, 1, 2, 2, 4];
        var by = dice.Pick(steps);
        return scene.Slip("lift-left-in", SlipWay.Afterwards, [scene.Key(Axis.Z)],
            key => (double)scene.Should(key) + by);
    }
}
