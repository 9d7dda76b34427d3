using System.Globalization;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;
using SetupAudit.Support;

namespace SetupAudit.Findings;

/// <summary>The library's statistics against certified and published figures, and our limits beside the textbook's.</summary>
public sealed class PublishedStatisticsTests
{
    // NIST StRD, univariate summary statistics: certified mean and standard deviation (n - 1), at least 12 digits asked for.
    [Theory]
    [InlineData("Michelso", 299.852400000000, 0.0790105478190518)]
    [InlineData("Mavro", 2.00185600000000, 0.000429123454003053)]
    [InlineData("NumAcc1", 10000002, 1)]
    [InlineData("NumAcc2", 1.2, 0.1)]
    [InlineData("NumAcc3", 1000000.2, 0.1)]
    [InlineData("NumAcc4", 10000000.2, 0.1)]
    [InlineData("Lew", -177.435000000000, 277.332168044316)]
    [InlineData("Lottery", 518.958715596330, 291.699727470969)]
    public void Mean_and_deviation_are_the_certified_ones(string set, double mean, double deviation)
    {
        var values = Values(Reference.At($"stats/nist_strd/{set}.dat"));
        var found = new DescriptiveStatistics(values, increasedAccuracy: true);
        Assert.Equal(1, found.Mean / mean, 1e-12);
        Assert.Equal(1, found.StandardDeviation / deviation, 1e-12);
    }

    [Fact]
    public void Three_large_numbers_that_differ_by_one_deviate_by_one()
    {
        // NIST StRD, NumAcc1: the data themselves, so that the check holds without the files.
        var found = new DescriptiveStatistics([10000001, 10000003, 10000002], increasedAccuracy: true);
        Assert.Equal((10000002, 1), (found.Mean, found.StandardDeviation));
    }

    // Hahn and Meeker, Statistical Intervals: t s sqrt(1 + 1/n) for one new value; multipliers computed from that formula.
    [Theory]
    [InlineData(3, 0.95, 4.968)]
    [InlineData(5, 0.95, 3.041)]
    [InlineData(10, 0.95, 2.373)]
    [InlineData(3, 0.9973, 22.177)]
    [InlineData(5, 0.9973, 7.252)]
    [InlineData(10, 0.9973, 4.294)]
    public void The_prediction_interval_has_its_published_width(int count, double share, double multiplier) =>
        Assert.Equal(multiplier, Multiplier(count, share), 0.0006);

    [Fact]
    public void One_value_too_far_by_the_prediction_interval_has_its_published_t()
    {
        // NIST SMS Test Bed plates, "Distance 1", parts 1 to 5 and 6: t = 7.0000 on 4 degrees of freedom, p = 0.0021921.
        double[] before = [71.140, 71.143, 71.139, 71.142, 71.146];
        var t = (71.163 - before.Mean()) / (before.StandardDeviation() * Math.Sqrt(1.2));
        Assert.Equal(7.0, t, 1e-4);
        Assert.Equal(0.0021921, 2 * StudentT.CDF(0, 1, 4, -t), 1e-7);
    }

    [Theory]
    [InlineData(5)]
    [InlineData(10)]
    public void The_usual_limit_lies_no_wider_than_the_prediction_interval_and_not_far_inside(int count)
    {
        // Values that lie at the normal quantiles, so that neither luck nor a seed decides.
        var values = Enumerable.Range(1, count)
            .Select(rank => Math.Round((decimal)Normal.InvCDF(-318.2, 0.02, (rank - 0.5) / count), 3)).ToList();
        var deviation = values.Select(value => (double)value).StandardDeviation();
        var usual = Usual.From(values, ScalePrior.From([(0.02, 20)], 0.02, 0.0003, 300), 0.001, 0.003);
        var published = Multiplier(count, 0.9973) * deviation;
        // Neighbours of the same machine lend freedom: the limit is nearer than the lone series allows, never three sigma.
        Assert.True(usual.Tail(usual.Location + (decimal)(1.3 * published)) < 0.0027);
        Assert.True(usual.Tail(usual.Location + (decimal)(2.5 * deviation)) > 0.0027);
    }

    private static double Multiplier(int count, double share) =>
        StudentT.InvCDF(0, 1, count - 1, (1 + share) / 2) * Math.Sqrt(1 + 1.0 / count);

    // The header of each file tells the lines of its data.
    private static List<double> Values(string path)
    {
        var lines = File.ReadAllLines(path);
        var last = Array.FindLastIndex(lines, line => !IsNumber(line) && line.Trim().Length > 0);
        return [.. lines.Skip(last + 1).Where(IsNumber).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];
    }

    private static bool IsNumber(string line) =>
        double.TryParse(line, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
}
