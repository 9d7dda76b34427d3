using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>
/// None of the known mistakes: the fixture, or the job, lies elsewhere. A proper density over the space the datum can
/// lie in,
/// half of it even over the travel and half of it thicker near the usual place, since fixtures move a little more often
/// than far.
/// </summary>
internal static class FixtureMoved
{
    public const string Name = "fixture-moved";

    /// <summary>Moving a fixture moves every axis about as often as only one.</summary>
    public const double Together = 0.5;

    // In mm: where an axis' travel is not configured.
    private const double TravelGuess = 1000;

    /// <summary>Probability of the recorded count.</summary>
    public static double Likelihood(CauseQuestion question, OffsetKey key, double value)
    {
        var width = Width(question, key);
        var step = (double)question.Machine.Resolution;
        var distance = Math.Max(Math.Abs(value - question.Expected(key)), step);
        var even = step / width;
        // Even in the logarithm of the distance, from one count to the width: integrates to one over both sides.
        var near = step / (2 * distance * Math.Log(width / step));
        return distance > width ? even * 1e-3 : even / 2 + near / 2;
    }

    private static double Width(CauseQuestion question, OffsetKey key)
    {
        if (key.IsDatum && question.Machine.Travel.TryGetValue(key.Axis, out var travel)) return (double)(
            travel.High - travel.Low);
        return question.FromMm(key.IsTool ? TravelGuess / 4 : TravelGuess);
    }
}
