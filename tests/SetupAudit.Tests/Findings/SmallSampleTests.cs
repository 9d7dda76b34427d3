using MathNet.Numerics.Distributions;

namespace SetupAudit.Findings;

/// <summary>
/// The published cut of 3.5 for the modified z-score (Iglewicz and Hoaglin, 1993) flags a clean new value in one of four
/// cases after three values, and one of seven after four (computed from its definition). The usual must not.
/// </summary>
public sealed class SmallSampleTests
{
    [Theory]
    [InlineData(3, 0.2)]
    [InlineData(4, 0.1)]
    public void A_clean_value_after_few_others_is_hardly_ever_flagged_where_the_modified_z_score_often_does(int count, double trap)
    {
        var random = new Random(20260302);
        var prior = ScalePrior.From([(0.02, 9)], 0.02, 0.0003, 300);
        var (ours, modified) = (0, 0);
        const int Runs = 4000;
        for (var run = 0; run < Runs; run++)
        {
            var values = Enumerable.Range(0, count + 1)
                .Select(_ => Math.Round((decimal)Normal.Sample(random, -318.2, 0.02), 3)).ToList();
            var next = values[^1];
            values.RemoveAt(count);
            if (Usual.From(values, prior, 0.001, 0.003).Tail(next) < Plausibility.Improbable) ours++;
            var median = Usual.Median(values);
            var mad = (double)Usual.Median([.. values.Select(value => Math.Abs(value - median))]);
            if (0.6745 * Math.Abs((double)(next - median)) > 3.5 * mad) modified++;
        }
        Assert.True(modified > trap * Runs);
        Assert.True(ours < 0.002 * Runs);
    }

    [Fact]
    public void The_limits_of_an_individuals_chart_are_the_printed_ones()
    {
        // NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of ten batches.
        double[] flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        var half = 3 * Charts.MeanMovingRange(flow) / Charts.RangeDivisor;

        Assert.Equal(55.8041, flow.Average() + half, 1e-4);
        Assert.Equal(45.8159, flow.Average() - half, 1e-4);
    }
}
