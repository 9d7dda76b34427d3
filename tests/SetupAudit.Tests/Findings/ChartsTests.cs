namespace SetupAudit.Findings;

/// <summary>Against worked examples of the NIST/SEMATECH e-Handbook of Statistical Methods (doi:10.18434/M32189).</summary>
public sealed class ChartsTests
{
    // Section 6.3.2.4.
    private static readonly double[] EwmaData =
        [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

    private static readonly double[] EwmaPrinted =
        [50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99];

    // Section 6.3.2.3.
    private static readonly double[] CusumData =
    [
        324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
        324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
    ];

    private static readonly double[] CusumPrintedHigh =
        [0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.00, 19.04];

    [Fact]
    public void Ewma_gives_the_printed_series()
    {
        var smoothed = Charts.Ewma(EwmaData, 50, 0.3);

        for (var i = 0; i < EwmaPrinted.Length; i++) Assert.Equal(EwmaPrinted[i], smoothed[i], 0.006);
    }

    [Fact]
    public void Ewma_limits_settle_at_the_printed_ones()
    {
        Assert.Equal(52.5884, 50 + Charts.EwmaHalfWidth(1000, 2.0539, 0.3, 3), 1e-4);
        Assert.Equal(51.848510, 50 + Charts.EwmaHalfWidth(1, 2.0539, 0.3, 3), 1e-5);
    }

    [Fact]
    public void Cusum_gives_the_printed_sums_and_alarms_first_at_the_fourteenth()
    {
        var sums = Charts.Cusum(CusumData, 325, 0.3175);

        // The printed table mixes the directions it rounds in: 0.006.
        for (var i = 0; i < CusumPrintedHigh.Length; i++) Assert.Equal(CusumPrintedHigh[i], sums[i].High, 0.006);
        Assert.Equal(13, sums.ToList().FindIndex(sum => sum.High > 4.1959));
    }

    [Fact]
    public void Mean_moving_range_is_the_printed_one()
    {
        // Section 6.3.2.2, flow rate of ten batches.
        Assert.Equal(1.8778, Charts.MeanMovingRange([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]), 1e-4);
    }

    [Theory]
    [InlineData(0.5, 26.63)]
    [InlineData(1, 8.383)]
    [InlineData(2, 3.343)]
    public void Cusum_runs_as_long_as_published_before_it_sees_a_shift(double shift, double published)
    {
        // Two-sided run lengths for k = 0.5, h = 4 (e-Handbook 6.3.2.3.1); a seeded simulation stays within 5 % of them.
        var random = new Random(20260302);
        var total = 0;
        const int Runs = 8000;
        for (var run = 0; run < Runs; run++)
        {
            var series = Enumerable.Range(0, 400).Select(_ => MathNet.Numerics.Distributions.Normal.Sample(random, shift, 1)).ToList();
            var alarm = Charts.Cusum(series, 0, Charts.CusumSlack).ToList().FindIndex(sum => sum.High > 4 || sum.Low > 4);
            Assert.True(alarm >= 0);
            total += alarm + 1;
        }
        Assert.Equal(published, total / (double)Runs, published * 0.05);
    }
}
