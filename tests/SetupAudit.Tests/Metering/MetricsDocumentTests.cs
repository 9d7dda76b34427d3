using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit.Metering;

/// <summary>Holds the table of metrics in docs/operations.md to the code: names, kinds, units, labels, meanings.</summary>
public sealed partial class MetricsDocumentTests
{
    [Fact]
    public void The_page_has_every_metric_as_it_is_and_no_other()
    {
        var documented = File.ReadAllLines(Repository.At("docs/operations.md"))
            .Select(line => Row.Match(line)).Where(match => match.Success).Select(match => match.Value);
        var known = MetricBook.All.Select(metric => $"| `{metric.PageName}` | `{metric.Name}` | "
            + $"{ExpositionText.Word(metric.Kind)} | {metric.Unit} | {Labels(metric)} | {metric.What} |");
        Assert.Equal(known, documented);
    }

    [Fact]
    public void No_two_metrics_share_a_name_and_every_name_is_one_that_scrapers_take()
    {
        Assert.Equal(MetricBook.All.Count, MetricBook.All.Select(metric => metric.PageName).Distinct().Count());
        Assert.All(MetricBook.All, metric => Assert.Matches("^setupaudit(_[a-z]+)+$", metric.PageName));
    }

    private static string Labels(Metric metric) => metric.Labels.Count == 0 ? "-" : string.Join(", ", metric.Labels);

    [GeneratedRegex(@"^\| `setupaudit_\w+` \| .* \|$")]
    private static partial Regex Row { get; }
}
