using MathNet.Numerics.Distributions;
using SetupAudit.Datums;

namespace SetupAudit.Findings;

/// <summary>
/// What an offset usually is: where it lies, and how much it varies. The scale is not one number but a weighting over a
/// grid
/// of scales, so that three values, or twenty that are equal to the last digit, give neither a wild verdict nor a
/// division by zero.
/// </summary>
public sealed class Usual
{
    private const double BadShare = 0.05;

    // A sheet's range is rounded by hand: what lies a little outside is no jump yet.
    private const double RangeMargin = 0.1;

    private readonly double[] _scales;
    private readonly double[] _weights;
    private readonly double? _half;

    private Usual(decimal location, int count, double[] scales, double[] weights, double step, double? half = null,
        Register? by = null)
    {
        _half = half;
        By = by;
        Location = location;
        Count = count;
        Step = step;
        _scales = scales;
        _weights = weights;
    }

    /// <summary>The median of the earlier values, or the middle of a setup sheet's range.</summary>
    public decimal Location { get; }

    /// <summary>The register whose place, by the usual distance to it, gives this one; null where it rests on the
    /// offset's own past or sheet.</summary>
    public Register? By { get; }

    /// <summary>How many earlier values it rests on; 0 where it rests on a setup sheet.</summary>
    public int Count { get; }

    /// <summary>The least increment, which a likelihood is an interval of.</summary>
    public double Step { get; }

    /// <summary>The scale in the middle of the weighting: what "the usual spread" means in a sentence.</summary>
    public double Spread
    {
        get
        {
            var sum = 0.0;
            for (var i = 0; i < _scales.Length; i++)
            {
                sum += _weights[i];
                if (sum >= 0.5) return _scales[i];
            }
            return _scales[^1];
        }
    }

    /// <summary>From earlier values.</summary>
    /// <param name="values">At least one, in the machine's unit.</param>
    /// <param name="scales">Prior weighting over scales (see <see cref="ScalePrior"/>).</param>
    /// <param name="step">Least increment.</param>
    /// <param name="floor">What two settings of the same thing differ by at least (probing repeats), as a standard
    /// deviation.</param>
    public static Usual From(IReadOnlyList<decimal> values, ScalePrior scales, double step, double floor)
    {
        var location = Median(values);
        var deviations = values.Select(value => (double)(value - location)).ToArray();
        var logs = new double[scales.Grid.Count];
        for (var i = 0; i < logs.Length; i++)
        {
            var scale = Effective(scales.Grid[i], step, floor);
            // One value's worth of knowledge went into the location, so one scale factor is given back.
            logs[i] = scales.LogWeights[i] + Math.Log(scale);
            foreach (var deviation in deviations) logs[i] += RobustLog(deviation, scale, scales.Grid[^1]);
        }
        return new Usual(location, values.Count, Widened(scales, step, floor, values.Count), Normalised(logs), step);
    }

    /// <summary>From a range that a setup sheet gives: its middle, and a quarter of its width as the scale.</summary>
    public static Usual FromRange(decimal low, decimal high, double step, double floor)
    {
        var width = (double)(high - low);
        return new Usual((low + high) / 2, 0, [Effective(width / 4, step, floor)], [1.0], step,
            width * (0.5 + RangeMargin) + floor + step);
    }

    /// <summary>Where this is the usual distance to a register's axis: what the offset should be, now that it stands
    /// somewhere.</summary>
    internal Usual Beside(Register register, decimal stands) =>
        new(Location + stands, Count, _scales, _weights, Step, _half, register);

    /// <summary>Probability that a clean value lies as far from the usual as this one, or further. By a sheet's range a
    /// clean value may lie anywhere in it and nowhere else.</summary>
    public double Tail(decimal value) => Tail(value, Location);

    /// <summary>The same about another place, where it varies as much.</summary>
    public double Tail(decimal value, decimal place)
    {
        var distance = Math.Abs((double)(value - place));
        if (_half is { } half) return distance <= half ? 1 : 0;
        var tail = 0.0;
        for (var i = 0; i < _scales.Length; i++) tail += _weights[i] * 2 * Normal.CDF(0, 1, -distance / _scales[i]);
        return tail;
    }

    /// <summary>Probability of the recorded count, where the value is expected at a place with the usual variation
    /// times a factor and an extra one.</summary>
    public double Interval(double value, double expected, double factor = 1, double extra = 0)
    {
        var sum = 0.0;
        for (var i = 0; i < _scales.Length; i++)
        {
            var scale = Math.Sqrt(_scales[i] * factor * (_scales[i] * factor) + extra * extra);
            sum += _weights[i] * IntervalOf(value - expected, scale, Step);
        }
        return sum;
    }

    /// <summary>Probability of the recorded count under one normal scale.</summary>
    public static double IntervalOf(double deviation, double scale, double step)
    {
        var distance = Math.Abs(deviation);
        // The two tails are subtracted on the side where they are small, so that nothing is lost to rounding.
        return Normal.CDF(0, 1, -(distance - step / 2) / scale) - Normal.CDF(0, 1, -(distance + step / 2) / scale);
    }

    internal static decimal Median(IReadOnlyList<decimal> values)
    {
        var sorted = values.Order().ToArray();
        var half = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }

    // Rounding to a count adds h^2/12; probing repeats add theirs (GUM 4.3.7; J. Res. NIST 113:143, 2008).
    private static double Effective(double scale, double step, double floor) =>
        Math.Sqrt(scale * scale + step * step / 12 + floor * floor);

    // One value in twenty may be anything: a bad one among the earlier ones does not widen the scale for good.
    private static double RobustLog(double deviation, double scale, double widest) =>
        Math.Log((1 - BadShare) * Normal.PDF(0, scale, deviation) + BadShare / (2 * widest));

    // The location itself is uncertain: a median of n values has about 1.3/n of their variance at such n.
    private static double[] Widened(ScalePrior scales, double step, double floor, int count) =>
        [.. scales.Grid.Select(scale => Effective(scale, step, floor) * Math.Sqrt(1 + 1.3 / count))];

    internal static double[] Normalised(double[] logs)
    {
        var most = logs.Max();
        var weights = logs.Select(log => Math.Exp(log - most)).ToArray();
        var sum = weights.Sum();
        return [.. weights.Select(weight => weight / sum)];
    }
}
