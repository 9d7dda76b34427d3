namespace SetupAudit.Findings;

/// <summary>The two control charts that see small lasting shifts, with their published constants.</summary>
public static class Charts
{
    /// <summary>Design for a run length of 500 without a shift: lambda 0.2, L 2.962 (Lucas and Saccucci, Technometrics
    /// 32, 1990).</summary>
    public const double EwmaWeight = 0.2;

    public const double EwmaLimit = 2.962;

    /// <summary>Half a sigma of slack and a decision interval of five (NIST/SEMATECH e-Handbook 6.3.2.3; run length 465
    /// on two sides).</summary>
    public const double CusumSlack = 0.5;

    public const double CusumLimit = 5;

    /// <summary>Moving ranges of two over 1.128 estimate sigma (e-Handbook 6.3.2.2).</summary>
    public const double RangeDivisor = 1.128;

    /// <summary>The smoothed values z1, z2, ... of a series, from a start.</summary>
    public static IReadOnlyList<double> Ewma(IReadOnlyList<double> values, double start, double weight)
    {
        var smoothed = new double[values.Count];
        for (var (i, last) = (0, start); i < values.Count; last = smoothed[i++])
            smoothed[i] = weight * values[i] + (1 - weight) * last;
        return smoothed;
    }

    /// <summary>Half the width of the limits at the i-th value (from 1), for values of that sigma.</summary>
    public static double EwmaHalfWidth(int i, double sigma, double weight, double limit) =>
        limit * sigma * Math.Sqrt(weight / (2 - weight) * (1 - Math.Pow(1 - weight, 2 * i)));

    /// <summary>The upper and lower sums S_hi and S_lo after each value.</summary>
    public static IReadOnlyList<(double High, double Low)> Cusum(
        IReadOnlyList<double> values, double target, double slack)
    {
        var sums = new (double High, double Low)[values.Count];
        var (high, low) = (0.0, 0.0);
        for (var i = 0; i < values.Count; i++)
        {
            high = Math.Max(0, high + values[i] - target - slack);
            low = Math.Max(0, low + target - slack - values[i]);
            sums[i] = (high, low);
        }
        return sums;
    }

    /// <summary>Mean moving range of two.</summary>
    public static double MeanMovingRange(IReadOnlyList<double> values)
    {
        var sum = 0.0;
        for (var i = 1; i < values.Count; i++) sum += Math.Abs(values[i] - values[i - 1]);
        return values.Count < 2 ? 0 : sum / (values.Count - 1);
    }
}
