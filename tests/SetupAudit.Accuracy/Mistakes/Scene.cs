using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>A setup in which a mistake is about to happen.</summary>
/// <param name="Right">What a careful setter's numbers would be.</param>
/// <param name="Before">What the control holds when the setup begins.</param>
internal sealed record Scene(
    MadeMachine Machine, Job Job, JobDatum Datum, IReadOnlyDictionary<OffsetKey, decimal> Right,
    IReadOnlyDictionary<OffsetKey, decimal> Before, History History)
{
    public IReadOnlyList<OffsetKey> Axes { get; } =
        [.. Datum.Places.Keys.Order().Select(axis => OffsetKey.Datum(Datum.Register, axis))];

    public bool IsLathe => Machine.Config.IsLathe;

    public bool Probes => Job.Way != SettingWay.ByHand;

    public OffsetKey Key(Axis axis) => OffsetKey.Datum(Datum.Register, axis);

    /// <summary>What an offset should be in this setup.</summary>
    public decimal Should(OffsetKey key) => Right.TryGetValue(key, out var value) ? value : Before[key];

    /// <summary>A mistake that puts other numbers in the place of the right ones.</summary>
    public Slip Slip(string cause, SlipWay way, IEnumerable<OffsetKey> keys, Func<OffsetKey, double> wrong) =>
        new(cause, keys.ToDictionary(key => key, key => Machine.Round(wrong(key))), way);

    /// <summary>One axis, or all of the datum.</summary>
    public IReadOnlyList<OffsetKey> OneOrAll(Dice dice, double one) => dice.Chance(one) ? [dice.Pick(Axes)] : Axes;

    /// <summary>X, Y or both.</summary>
    public IReadOnlyList<OffsetKey> EdgeAxes(Dice dice, double both) =>
        dice.Chance(both) ? [Key(Axis.X), Key(Axis.Y)] : [Key(dice.Pick([Axis.X, Axis.Y]))];

    /// <summary>From the wanted corner into the stock: +1 where the corner is the left or front one.</summary>
    public int Inward(Axis axis) => axis switch
    {
        Axis.X => Job.At.Contains("left", StringComparison.Ordinal) ? 1 : -1,
        Axis.Y => Job.At.Contains("front", StringComparison.Ordinal) ? 1 : -1,
        _ => -1,
    };
}
