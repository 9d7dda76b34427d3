using SetupAudit.Accuracy.Trials;

namespace SetupAudit.Accuracy.Scores;

/// <summary>The figures of the mistakes of one kind, or of all.</summary>
internal sealed record CauseScore
{
    /// <summary>Offsets hit beyond 0.05 mm and ten usual spreads.</summary>
    public required int Planted { get; init; }

    public required int Found { get; init; }

    /// <summary>The planted cause was first.</summary>
    public required int First { get; init; }

    /// <summary>It was first, or one that predicts the same was.</summary>
    public required int Fair { get; init; }

    public required double Brier { get; init; }

    public required double LogLoss { get; init; }

    public double Recall => Share(Found, Planted);

    public double StrictAccuracy => Share(First, Found);

    public double FairAccuracy => Share(Fair, Found);

    public static CauseScore Of(IReadOnlyCollection<Verdict> verdicts)
    {
        var planted = verdicts.Where(verdict => verdict.MustBeFound).ToList();
        var found = planted.Where(verdict => verdict.Found).ToList();
        return new CauseScore
        {
            Planted = planted.Count,
            Found = found.Count,
            First = found.Count(verdict => verdict.RightFirst),
            Fair = found.Count(verdict => verdict.FairFirst),
            Brier = found.Count == 0 ? 0 : found.Average(verdict => Scoring.Brier(
                verdict.Causes.Select(cause => (cause.Name, (double)cause.Probability)), verdict.Cause)),
            LogLoss = found.Count == 0 ? 0 : found.Average(
                verdict => Scoring.LogLoss(verdict.Probability(verdict.Cause))),
        };
    }

    /// <summary>First-ranked probabilities of what was found, and whether they were right.</summary>
    public static IReadOnlyList<(double Probability, bool True)> FirstRanked(IEnumerable<Verdict> verdicts) =>
        [.. verdicts.Where(verdict => verdict is { MustBeFound: true, Found: true })
            .Select(verdict => ((double)verdict.Causes[0].Probability, verdict.RightFirst))];

    /// <summary>Every probability that was given, and whether it was the planted cause's.</summary>
    public static IReadOnlyList<(double Probability, bool True)> AllGiven(IEnumerable<Verdict> verdicts) =>
        [.. verdicts.Where(verdict => verdict is { MustBeFound: true, Found: true })
            .SelectMany(verdict => verdict.Causes.Select(
                cause => ((double)cause.Probability, cause.Name == verdict.Cause)))];

    private static double Share(int part, int all) => all == 0 ? 1 : part / (double)all;
}
