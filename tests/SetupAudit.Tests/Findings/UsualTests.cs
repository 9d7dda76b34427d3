namespace SetupAudit.Findings;

public sealed class UsualTests
{
    private static readonly ScalePrior Guess = ScalePrior.From([], 0.02, 0.0003, 300);

    [Fact]
    public void Values_equal_to_the_last_digit_neither_divide_by_zero_nor_flag_one_count()
    {
        // 12 x 0.003 and 8 x 0.004: flatness of 20 parts of the NIST SMS test bed, whose median absolute deviation is 0.
        var values = Enumerable.Repeat(0.003m, 12).Concat(Enumerable.Repeat(0.004m, 8)).ToList();

        var usual = Usual.From(values, Guess, 0.001, 0);

        Assert.True(usual.Tail(0.004m) > 0.05);
        Assert.True(usual.Tail(0.103m) < 1e-4);
    }

    [Fact]
    public void A_jump_of_ten_times_the_usual_spread_is_improbable_after_four_values()
    {
        var prior = ScalePrior.From([(0.02, 9)], 0.02, 0.0003, 300);
        var usual = Usual.From([-318.22m, -318.18m, -318.20m, -318.20m], prior, 0.001, 0.003);

        Assert.True(usual.Tail(-318.0m) < Plausibility.Improbable);
        Assert.True(usual.Tail(-318.16m) > 0.01);
    }

    [Fact]
    public void A_place_that_always_varies_widely_overrules_what_the_neighbours_show()
    {
        var prior = ScalePrior.From([(0.02, 30)], 0.02, 0.0003, 300);
        var usual = Usual.From([-400m, -362m, -431m, -388m, -412m], prior, 0.001, 0.003);

        Assert.True(usual.Tail(-375m) > 0.05);
    }

    [Fact]
    public void One_bad_value_among_the_earlier_ones_hides_no_later_jump()
    {
        var usual = Usual.From([1.00m, 1.01m, 0.99m, 1.00m, 26.4m, 1.01m], Guess, 0.001, 0.003);

        Assert.Equal(1.005m, usual.Location);
        Assert.True(usual.Tail(12m) < 0.01);
    }

    [Fact]
    public void The_interval_probabilities_of_all_counts_sum_to_one()
    {
        var usual = Usual.From([0m, 0.002m, 0.001m, 0.003m], ScalePrior.From([], 0.02, 0.0003, 5), 0.001, 0.003);

        var sum = Enumerable.Range(-30_000, 60_001).Sum(count => usual.Interval(count * 0.001, 0));

        Assert.Equal(1, sum, 1e-3);
    }

    [Theory]
    [InlineData(25.400, 0.682689492)]
    [InlineData(25.401, 0.157305356)]
    [InlineData(25.402, 0.001349611)]
    public void A_likelihood_is_the_probability_of_the_count(double value, double published)
    {
        // Interval of 0.001 about the value under a normal of 0.0005 at 25.4: tabulated normal probabilities.
        Assert.Equal(published, Usual.IntervalOf(value - 25.4, 0.0005, 0.001), 1e-8);
    }

    [Fact]
    public void Ends_far_out_keep_their_probability()
    {
        Assert.True(Usual.IntervalOf(20, 1, 0.001) > 0);
        Assert.Equal(Usual.IntervalOf(20, 1, 0.001), Usual.IntervalOf(-20, 1, 0.001));
    }
}
