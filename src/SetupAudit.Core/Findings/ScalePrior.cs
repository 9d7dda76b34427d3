namespace SetupAudit.Findings;

/// <summary>
/// What is known of how much an offset varies before its own values are looked at: mostly what other offsets of the
/// machine
/// show, and a little of everything, so that its own values can always overrule the others'.
/// </summary>
public sealed class ScalePrior
{
    private const int Points = 64;

    // Other offsets of the same machine vary alike to within a factor of about two; a guess for a class of machines is
    // wider.
    private const double NeighbourWidth = 0.6;
    private const double GuessWidth = 1.2;
    private const double NeighbourShare = 0.9;

    private ScalePrior(double[] grid, double[] logWeights)
    {
        Grid = grid;
        LogWeights = logWeights;
    }

    /// <summary>Scales, evenly spaced in their logarithm.</summary>
    public IReadOnlyList<double> Grid { get; }

    public IReadOnlyList<double> LogWeights { get; }

    /// <summary>From the scales that other offsets show, each with the degrees of freedom it rests on; from a guess
    /// where there are none.</summary>
    /// <param name="neighbours">Standard deviations of other groups, each with its degrees of freedom.</param>
    /// <param name="guess">What machines of this class usually repeat to.</param>
    /// <param name="least">Smallest scale thought of.</param>
    /// <param name="most">Largest scale thought of.</param>
    public static ScalePrior From(
        IReadOnlyList<(double Scale, double Freedom)> neighbours, double guess, double least, double most)
    {
        var grid = new double[Points];
        for (var i = 0; i < Points; i++) grid[i] = least * Math.Pow(most / least, i / (Points - 1.0));
        var known = neighbours.Count > 0 ? neighbours : [(guess, 1.0)];
        var width = neighbours.Count > 0 ? NeighbourWidth : GuessWidth;
        var freedom = known.Sum(group => group.Freedom);
        var near = Normal(grid, scale =>
            known.Sum(group => group.Freedom / freedom * Kernel(scale, Math.Max(group.Scale, least), width)));
        var weights = near.Select(
            weight => Math.Log(NeighbourShare * weight + (1 - NeighbourShare) / Points)).ToArray();
        return new ScalePrior(grid, weights);
    }

    private static double Kernel(double scale, double centre, double width)
    {
        var z = Math.Log(scale / centre) / width;
        return Math.Exp(-z * z / 2);
    }

    private static double[] Normal(double[] grid, Func<double, double> weight)
    {
        var weights = grid.Select(weight).ToArray();
        var sum = weights.Sum();
        return sum > 0 ? [.. weights.Select(item => item / sum)] : [.. grid.Select(_ => 1.0 / grid.Length)];
    }
}
