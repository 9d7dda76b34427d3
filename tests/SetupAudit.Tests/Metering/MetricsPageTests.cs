using SetupAudit.Support;

namespace SetupAudit.Metering;

// Figures are of the process: each test counts under a machine of its own.
public sealed class MetricsPageTests
{
    [Fact]
    public void Counters_add_up_gauges_stand_and_durations_fall_into_buckets()
    {
        using var page = new MetricsPage();
        var machine = Some.Machine();
        Meters.Count(MetricBook.Arrivals, 2, machine);
        Meters.Count(MetricBook.Arrivals, 3, machine);
        Meters.Took(MetricBook.Derive, TimeSpan.FromMilliseconds(20), machine);
        Meters.Took(MetricBook.Derive, TimeSpan.FromSeconds(400), machine);
        using var shown = Meters.Show(MetricBook.Backlog, () => [new Figure(1.5, machine)]);

        var samples = Exposition.Read(page.Write());

        Assert.Equal(5, samples[$"setupaudit_arrivals_total{{machine=\"{machine}\"}}"]);
        Assert.Equal(1.5, samples[$"setupaudit_backlog{{machine=\"{machine}\"}}"]);
        var derive = $"setupaudit_derive_duration_seconds_bucket{{machine=\"{machine}\",le=";
        Assert.Equal(0, samples[derive + "\"0.01\"}"]);
        Assert.Equal(1, samples[derive + "\"0.025\"}"]);
        Assert.Equal(1, samples[derive + "\"300\"}"]);
        Assert.Equal(2, samples[derive + "\"+Inf\"}"]);
        Assert.Equal(400.02, samples[$"setupaudit_derive_duration_seconds_sum{{machine=\"{machine}\"}}"], 9);
        Assert.Equal(2, samples[$"setupaudit_derive_duration_seconds_count{{machine=\"{machine}\"}}"]);
    }

    [Theory]
    [InlineData("a\"b", "a\\\"b")]
    [InlineData("a\nb", "a\\nb")]
    [InlineData("a\\b", "a\\\\b")]
    [InlineData("\",machine=\"x\"} 7\nsetupaudit_arrivals_total{machine=\"y", "\\\",machine=\\\"x\\\"} 7\\nsetupaudit_arrivals_total{machine=\\\"y")]
    [InlineData("Fräsmaschine 3", "Fräsmaschine 3")]
    public void A_label_value_cannot_end_its_line(string value, string escaped)
    {
        using var page = new MetricsPage();
        Meters.Count(MetricBook.Unreadable, 1, value);

        Assert.Equal(1, Exposition.Read(page.Write())[$"setupaudit_arrivals_unreadable_total{{machine=\"{escaped}\"}}"]);
    }

    [Fact]
    public void What_is_no_longer_shown_is_gone_from_the_page()
    {
        using var page = new MetricsPage();
        var machine = Some.Machine();
        var key = $"setupaudit_backlog{{machine=\"{machine}\"}}";
        using (Meters.Show(MetricBook.Backlog, () => [new Figure(4, machine)]))
            Assert.Equal(4, Exposition.Read(page.Write())[key]);

        Assert.DoesNotContain(key, Exposition.Read(page.Write()).Keys);
    }

    [Fact]
    public void A_figure_with_the_wrong_number_of_labels_is_a_mistake_of_ours() =>
        Assert.Throws<ArgumentException>(() => Meters.Count(MetricBook.TornReads, 1, "mill-3"));

    [Theory]
    [InlineData("setupaudit_arrivals_total 1")]
    [InlineData("# HELP a b\n# TYPE a counter\na{b=\"c} 1\n")]
    [InlineData("# HELP a b\n# TYPE a counter\na{b=\"c\"} 1,5\n")]
    [InlineData("# HELP a b\n# TYPE a counter\na 1\na 1\n")]
    public void The_reader_of_this_test_is_strict(string page) =>
        Assert.ThrowsAny<Exception>(() => Exposition.Read(page));
}
