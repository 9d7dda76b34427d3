using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Findings.Causes;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>
/// Which ordinary mistake explains an implausible offset. Each cause predicts values for the axes of the register
/// together; its
/// posterior is its prior times the probability of the counts that stand, summed in logarithms.
/// </summary>
public sealed class CauseRanking
{
    // A second, independent mistake on another axis must not drown what explains this one.
    private const double OtherMistake = 0.003;

    private const double LeastShown = 0.00005;

    private readonly SetupCase _case;
    private readonly Plausibility _plausibility;
    private readonly CauseQuestion _question;

    public CauseRanking(SetupCase setupCase, Plausibility plausibility)
    {
        _case = setupCase;
        _plausibility = plausibility;
        _question = new CauseQuestion(setupCase, plausibility);
    }

    /// <summary>The causes of one implausible offset, the likeliest first; probabilities sum to 1.</summary>
    public IReadOnlyList<Cause> Rank(OffsetKey key, decimal value)
    {
        var others = Others(key);
        var ranked = new List<(string Name, double Log, Guess? Best)>();
        foreach (var model in CauseBook.Models)
        {
            var (likelihood, best) = Best(model, key, (double)value);
            if (likelihood <= 0) continue;
            var before = Prior(model.Name) * model.Share(key) * _question.Shown(key, model.Manner);
            var log = Math.Log(before * likelihood);
            foreach (var other in others) log += Math.Log(Along(model, key, other));
            ranked.Add((model.Name, log, best));
        }
        ranked.Add((FixtureMoved.Name, Moved(key, (double)value, others), null));
        return Normalise(ranked, key, value);
    }

    // What the shop configures takes the place of the book's weight; reviews add to either.
    private double Prior(string name) =>
        (_case.Shop.Causes.TryGetValue(name, out var weight) ? (double)weight : CauseBook.Prior(name))
        + _case.CauseCounts.GetValueOrDefault(name);

    /// <summary>The other linear axes of the register whose usual value is known, with what stands.</summary>
    private List<(OffsetKey Key, double Value)> Others(OffsetKey key) => key.IsTool ? [] :
    [
        .. _case.Setup.After.Keys(key.Register)
            .Where(other => other != key && other.IsLinear && _plausibility.Of(other) is not null)
            .Where(other => _case.Setup.After.Value(other) is not null)
            .Select(other => (other, (double)_case.Setup.After.Value(other).GetValueOrDefault())),
    ];

    private (double Likelihood, Guess? Best) Best(ICauseModel model, OffsetKey key, double value)
    {
        var (sum, most) = (0.0, 0.0);
        Guess? best = null;
        foreach (var guess in model.Guesses(_question, key))
        {
            var likelihood = guess.Weight * Likelihood(key, guess, value);
            sum += likelihood;
            if (likelihood > most) (most, best) = (likelihood, guess);
        }
        return (sum, best);
    }

    private double Likelihood(OffsetKey key, Guess guess, double value)
    {
        var step = (double)_case.Machine.Resolution;
        if (guess.Factor == 0 && guess.Extra == 0) return Math.Abs(value - guess.Value) < step / 2 ? 1 : 0;
        return (guess.VariesAs ?? _plausibility.Of(key))?.Interval(value, guess.Value, guess.Factor, guess.Extra) ?? 0;
    }

    /// <summary>The probability of another axis' count, whether it took part or not.</summary>
    private double Along(ICauseModel model, OffsetKey key, (OffsetKey Key, double Value) other)
    {
        var apart = Apart(other.Key, other.Value);
        if (!model.Guesses(_question, other.Key).Any()) return apart;
        // A mistake that seldom hits such an axis at all seldom hits it along with the other one.
        var together = model.Together * Math.Min(1, model.Share(other.Key) / model.Share(key));
        return together * Best(model, other.Key, other.Value).Likelihood + (1 - together) * apart;
    }

    private double Apart(OffsetKey key, double value)
    {
        var usual = _plausibility.Of(key)?.Interval(value, _question.Expected(key)) ?? 0;
        return (1 - OtherMistake) * usual + OtherMistake * FixtureMoved.Likelihood(_question, key, value);
    }

    private double Moved(OffsetKey key, double value, List<(OffsetKey Key, double Value)> others)
    {
        var log = Math.Log(Prior(FixtureMoved.Name) * Shares.Moved(key) * _question.Shown(key, Manner.AtTheTouch))
            + Math.Log(FixtureMoved.Likelihood(_question, key, value));
        foreach (var other in others)
            log += Math.Log(FixtureMoved.Together * FixtureMoved.Likelihood(_question, other.Key, other.Value)
                + (1 - FixtureMoved.Together) * Apart(other.Key, other.Value));
        return log;
    }

    private List<Cause> Normalise(List<(string Name, double Log, Guess? Best)> ranked, OffsetKey key, decimal value)
    {
        var most = ranked.Max(item => item.Log);
        var sum = ranked.Sum(item => Math.Exp(item.Log - most));
        var shown = ranked.Select(item => (item.Name, item.Best, Probability: Math.Exp(item.Log - most) / sum))
            .Where(item => item.Probability >= LeastShown)
            .Select(item => (item.Name, item.Best, Rounded: Math.Round((decimal)item.Probability, 4)))
            .OrderByDescending(item => item.Rounded).ThenBy(item => item.Name, StringComparer.Ordinal).ToList();
        // What rounding and leaving out took goes to the first, so that they sum to 1 to the digit.
        var rest = 1m - shown.Sum(item => item.Rounded);
        return [.. shown.Select((item, index) => new Cause(item.Name, item.Rounded + (index == 0 ? rest : 0m),
            Predicted(item.Best), Because(item.Name, item.Best, key, value)))];
    }

    private decimal? Predicted(Guess? guess) => guess is null
        ? null
        : Math.Round(decimal.CreateSaturating(guess.Value) / _case.Machine.Resolution) * _case.Machine.Resolution;

    private string Because(string name, Guess? guess, OffsetKey key, decimal value)
    {
        var expected = _plausibility.Of(key);
        var usual = expected?.Location ?? 0m;
        var unit = _question.UnitName;
        var basis = string.Create(CultureInfo.InvariantCulture, $"the usual {Rounded(usual)}");
        if (expected?.By is { } register)
            basis = string.Create(CultureInfo.InvariantCulture, $"the {Rounded(usual)} that {register} gives");
        var how = $"{Named(key)} is {Apart(key, value - usual, unit)} {basis}";
        if (guess is null) return $"{how}; none of the known mistakes explains it better than something having moved";
        var miss = Math.Abs(value - decimal.CreateSaturating(guess.Value));
        return string.Create(
            CultureInfo.InvariantCulture, $"{how}; {guess.Says} explains it to {Rounded(miss)} {unit}");
    }

    private string Apart(OffsetKey key, decimal distance, string unit) => string.Create(CultureInfo.InvariantCulture,
        $"{Rounded(Math.Abs(distance))} {unit} {Words.Beyond(key, distance)}");

    private decimal Rounded(decimal value) => Math.Round(value / _case.Machine.Resolution) * _case.Machine.Resolution;

    private static string Named(OffsetKey key) => key.IsDatum ? $"{key.Axis}" : key.ToString();
}
