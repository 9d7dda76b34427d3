using System.Globalization;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>Mistakes of the hand at the keyboard: the number was right until it was typed.</summary>
internal static class TypedWrong
{
    // Where the digits lie on a number pad: a slip of the finger goes to a neighbour.
    private static readonly string[] Neighbours =
        ["12", "0245", "0153", "26", "157", "2468", "359", "48", "579", "68"];

    public static Slip? Units(Scene scene, Dice dice)
    {
        var keys = dice.Weighted<IReadOnlyList<OffsetKey>>(
            (0.6, scene.Axes), (0.25, [dice.Pick(scene.Axes)]), (0.15, [dice.Pick(scene.Job.Tools).LengthKey]));
        var inch = scene.Machine.Config.Units == Unit.Inch;
        // The number on the drawing is in the other unit; or the control was left in the other unit's mode.
        var larger = dice.Chance(inch ? 0.7 : 0.3);
        return scene.Slip("inch-mm-mixed", SlipWay.Typed, keys, key => larger
            ? (double)scene.Should(key) * 25.4
            : Math.Round((double)scene.Should(key) / 25.4, 4));
    }

    public static Slip? Point(Scene scene, Dice dice)
    {
        var keys = dice.Chance(0.12) ? [dice.Pick(scene.Job.Tools).LengthKey] : scene.OneOrAll(dice, 0.8);
        if (dice.Chance(0.45))
        {
            var power = dice.Pick<double>([10, 0.1]);
            return scene.Slip("decimal-point-lost", SlipWay.Typed, keys, key => (double)scene.Should(key) * power);
        }
        // The point is not typed at all. How many digits follow it decides what the control makes of it.
        var places = dice.Pick<int>(scene.Machine.Config.Units == Unit.Inch ? [4, 4, 3, 2, 0] : [3, 3, 2, 1, 0]);
        var whole = Math.Pow(10, places);
        var counts = scene.Machine.Config.WithoutPointIsIncrements ? (double)scene.Machine.Config.Resolution : 1;
        if (whole * counts is > 0.999 and < 1.001) return null;
        return scene.Slip("decimal-point-lost", SlipWay.Typed, keys,
            key => Math.Round((double)scene.Should(key) * whole) * counts);
    }

    public static Slip? Sign(Scene scene, Dice dice)
    {
        var keys = dice.Chance(0.1) ? [dice.Pick(scene.Job.Tools).LengthKey] : scene.OneOrAll(dice, 0.75);
        return scene.Slip("sign-flipped", SlipWay.Typed, keys, key => -(double)scene.Should(key));
    }

    public static Slip? Swapped(Scene scene, Dice dice)
    {
        if (scene.IsLathe) return null;
        var (first, second) = dice.Weighted<(Axis, Axis)>(
            (0.8, (Axis.X, Axis.Y)), (0.1, (Axis.X, Axis.Z)), (0.1, (Axis.Y, Axis.Z)));
        OffsetKey[] pair = [scene.Key(first), scene.Key(second)];
        OffsetKey Other(OffsetKey key) => key == pair[0] ? pair[1] : pair[0];
        // Mostly both; now and then the second is noticed and typed right.
        return scene.Slip("axes-swapped", SlipWay.Typed, dice.Chance(0.8) ? pair : [dice.Pick(pair)],
            key => (double)scene.Should(Other(key)));
    }

    public static Slip? Digit(Scene scene, Dice dice)
    {
        var key = dice.Chance(0.15) ? dice.Pick(scene.Job.Tools).LengthKey : dice.Pick(scene.Axes);
        var right = scene.Should(key);
        var text = Math.Abs(right).ToString(CultureInfo.InvariantCulture);
        var digits = Enumerable.Range(0, text.Length).Where(place => text[place] != '.').ToList();
        var at = dice.Pick(digits);
        var next = digits.Find(place => place > at);
        var wrong = dice.Weighted(
            (0.65, Replaced(text, at, dice)),
            (0.22, next == 0 ? text : Exchanged(text, at, next)),
            (0.08, text.Remove(at, 1)),
            (0.05, text.Insert(at, text[at].ToString())));
        var value = decimal.Parse("0" + wrong, CultureInfo.InvariantCulture) * Math.Sign(right);
        return value == right ? null : scene.Slip("mistyped-digit", SlipWay.Typed, [key], _ => (double)value);
    }

    /// <summary>The shift was entered once more, or the number was added to what stood instead of replacing it.</summary>
    public static Slip? Twice(Scene scene, Dice dice)
    {
        var keys = scene.OneOrAll(dice, 0.7);
        var how = dice.Weighted<Func<double, double, double>>(
            (0.4, (should, before) => should + should - before), (0.4, (should, _) => should + should),
            (0.2, (should, before) => should + before));
        return scene.Slip("applied-twice", SlipWay.Typed, keys,
            key => how((double)scene.Should(key), (double)scene.Before[key]));
    }

    public static Slip? Diameter(Scene scene, Dice dice)
    {
        var tool = dice.Pick(scene.Job.Tools);
        var twice = dice.Chance(scene.Machine.Config.DOnDiameter && !scene.IsLathe ? 0.3 : 0.5);
        return scene.Slip("diameter-for-radius", SlipWay.Typed, [tool.DiameterKey],
            key => (double)scene.Should(key) * (twice ? 2 : 0.5));
    }

    private static string Replaced(string text, int at, Dice dice)
    {
        var near = Neighbours[text[at] - '0'];
        var digit = dice.Chance(0.7) ? near[dice.Whole(0, near.Length - 1)] : (char)('0' + dice.Whole(0, 9));
        return text[..at] + digit + text[(at + 1)..];
    }

    private static string Exchanged(string text, int at, int next)
    {
        var letters = text.ToCharArray();
        (letters[at], letters[next]) = (letters[next], letters[at]);
        return new string(letters);
    }
}
