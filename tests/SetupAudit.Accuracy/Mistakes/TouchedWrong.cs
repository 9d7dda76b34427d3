using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>Mistakes at the part: the wrong surface was touched, or with something whose size was not taken
/// off.</summary>
internal static class TouchedWrong
{
    public static Slip? Corner(Scene scene, Dice dice)
    {
        // Without a sheet nothing says how large the stock is.
        if (scene.IsLathe || scene.Job.Sheet is null) return null;
        var keys = dice.Chance(0.1) ? [scene.Key(Axis.Z)] : scene.EdgeAxes(dice, 0.25);
        return Shifted(scene, "other-corner", keys,
            axis => scene.Inward(axis) * (scene.Job.Stock[axis] + dice.Normal(scene.Job.StockSpread)));
    }

    public static Slip? Centre(Scene scene, Dice dice)
    {
        if (scene.IsLathe || scene.Job.Sheet is null) return null;
        return Shifted(scene, "centre-for-edge", scene.EdgeAxes(dice, 0.6),
            axis => scene.Inward(axis) * (scene.Job.Stock[axis] + dice.Normal(scene.Job.StockSpread)) / 2);
    }

    /// <summary>The edge is touched from outside, and half the ball is not taken off.</summary>
    public static Slip? Stylus(Scene scene, Dice dice)
    {
        if (!scene.Probes || scene.IsLathe || scene.Machine.Config.StylusDiameter is not { } diameter) return null;
        var keys = dice.Chance(0.1) ? [scene.Key(Axis.Z)] : scene.EdgeAxes(dice, 0.5);
        return Shifted(scene, "stylus-radius", keys, axis => -scene.Inward(axis) * (double)diameter / 2);
    }

    /// <summary>As with the stylus; or the radius is taken off on the wrong side.</summary>
    public static Slip? EdgeFinder(Scene scene, Dice dice)
    {
        if (scene.IsLathe || scene.Probes) return null;
        var diameter = (double)dice.Pick(scene.Machine.Config.EdgeFinders);
        var radii = dice.Chance(0.12) ? 2 : 1;
        return Shifted(scene, "edge-finder-radius", scene.EdgeAxes(dice, 0.5),
            axis => -scene.Inward(axis) * radii * diameter / 2);
    }

    /// <summary>Touched on a gauge that was not taken off, or taken off twice.</summary>
    public static Slip? Gauge(Scene scene, Dice dice)
    {
        var gauge = (double)dice.Pick(scene.Machine.Config.Gauges) * dice.Sign(0.65);
        var tools = scene.Job.Tools.Where(tool => scene.Right.ContainsKey(tool.LengthKey)).ToList();
        return tools.Count > 0 && dice.Chance(0.2)
            ? scene.Slip("gauge-height", SlipWay.AtTheTouch, [dice.Pick(tools).LengthKey],
                key => (double)scene.Should(key) + gauge)
            : Shifted(scene, "gauge-height", [scene.Key(Axis.Z)], _ => gauge);
    }

    /// <summary>The part stands on a riser that is not wanted, or without one that is; now and then on two.</summary>
    public static Slip? Riser(Scene scene, Dice dice)
    {
        if (scene.IsLathe) return null;
        var risers = scene.Machine.Config.Risers;
        var height = (double)(dice.Pick(risers) + (dice.Chance(0.15) ? dice.Pick(risers) : 0m)) * dice.Sign(0.6);
        return Shifted(scene, "riser-height", [scene.Key(Axis.Z)], _ => height);
    }

    /// <summary>The control took the touching tool for another one; or a tool got another one's length.</summary>
    public static Slip? OtherTool(Scene scene, Dice dice)
    {
        var rack = scene.Machine.Rack;
        if (scene.IsLathe || dice.Chance(0.4))
        {
            var tool = dice.Pick(scene.Job.Tools);
            var other = dice.Pick(scene.Job.Tools.Where(item => item.Number != tool.Number).ToList());
            // Copied from the line beside, or measured with the wrong number keyed in.
            var again = dice.Chance(0.5) ? dice.Normal(0.005 * scene.Machine.Mm) : 0;
            return scene.Slip("other-tool-length", SlipWay.Typed, [tool.LengthKey],
                _ => (double)scene.Should(other.LengthKey) + again);
        }
        var touching = scene.Probes
            ? rack.First(tool => tool.Number == scene.Machine.Config.ProbeTool)
            : dice.Pick(scene.Job.Tools);
        var assumed = dice.Pick(rack.Where(tool => tool.Number != touching.Number).ToList());
        var shift = (double)(scene.Should(touching.LengthKey) - scene.Should(assumed.LengthKey));
        return Shifted(scene, "other-tool-length", [scene.Key(Axis.Z)], _ => shift);
    }

    /// <summary>The search met nothing, and its end was taken for the surface.</summary>
    public static Slip? SearchEnd(Scene scene, Dice dice)
    {
        if (!scene.Probes || scene.Machine.Config is not { Search: { } search, Standoff: { } standoff }) return null;
        // A program starts exactly at its standoff; by hand it is a millimetre more or less.
        var start = (double)standoff + (dice.Chance(0.5) ? dice.Between(-1, 1) * scene.Machine.Mm : 0);
        var key = scene.IsLathe || dice.Chance(0.75) ? scene.Key(Axis.Z) : scene.Key(dice.Pick([Axis.X, Axis.Y]));
        return Shifted(scene, "search-end", [key], axis => scene.Inward(axis) * ((double)search - start));
    }

    /// <summary>The fixture was bolted down elsewhere.</summary>
    public static Slip? Moved(Scene scene, Dice dice)
    {
        if (scene.IsLathe)
            return Shifted(scene, "fixture-moved", [scene.Key(Axis.Z)], _ => Far(scene, dice));
        var keys = dice.Weighted<Axis[]>((0.2, [Axis.X]), (0.2, [Axis.Y]), (0.4, [Axis.X, Axis.Y]),
            (0.1, [Axis.X, Axis.Y, Axis.Z]), (0.1, [Axis.Z]));
        return Shifted(scene, "fixture-moved", keys.Select(scene.Key), _ => Far(scene, dice));
    }

    private static double Far(Scene scene, Dice dice) => dice.Sign() * dice.LogBetween(0.1, 150) * scene.Machine.Mm;

    private static Slip Shifted(Scene scene, string cause, IEnumerable<OffsetKey> keys, Func<Axis, double> by) =>
        scene.Slip(cause, SlipWay.AtTheTouch, keys, key => (double)scene.Should(key) + by(key.Axis));
}
