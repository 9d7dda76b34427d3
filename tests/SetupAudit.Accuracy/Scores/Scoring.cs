namespace SetupAudit.Accuracy.Scores;

/// <summary>Scores of probabilities against what was true. Brier counts over all causes (0 is best, 2 worst); log loss
/// is in nats.</summary>
internal static class Scoring
{
    /// <summary>Probabilities are given to four decimals: one that is not listed is less than half the last
    /// digit.</summary>
    public const double LeastGiven = 0.00005;

    /// <summary>Sum over causes of (probability - truth) squared.</summary>
    public static double Brier(IEnumerable<(string Cause, double Probability)> given, string truth)
    {
        var (sum, named) = (0.0, false);
        foreach (var (cause, probability) in given)
        {
            var miss = probability - (cause == truth ? 1 : 0);
            sum += miss * miss;
            named |= cause == truth;
        }
        return named ? sum : sum + 1;
    }

    public static double LogLoss(double probabilityOfTruth) => -Math.Log(Math.Max(probabilityOfTruth, LeastGiven));

    /// <summary>Ten bins of equal width: how often what was given such a probability came true.</summary>
    public static IReadOnlyList<ReliabilityBin> Reliability(IReadOnlyCollection<(double Probability, bool True)> given, int bins = 10)
    {
        var rows = given.GroupBy(item => Math.Min((int)(item.Probability * bins), bins - 1)).OrderBy(group => group.Key);
        return [.. rows.Select(group => new ReliabilityBin(
            group.Key / (double)bins, (group.Key + 1) / (double)bins, group.Count(),
            group.Average(item => item.Probability), group.Average(item => item.True ? 1.0 : 0.0)))];
    }

    /// <summary>Mean distance between what was given and what came true, weighted by the bins' counts.</summary>
    public static double CalibrationError(IReadOnlyList<ReliabilityBin> bins)
    {
        var count = bins.Sum(bin => bin.Count);
        return count == 0 ? 0 : bins.Sum(bin => bin.Count * Math.Abs(bin.Given - bin.Observed)) / count;
    }
}
