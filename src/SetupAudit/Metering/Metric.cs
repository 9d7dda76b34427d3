namespace SetupAudit.Metering;

/// <summary>
/// A figure that the service tells of itself. Names, units and labels never change once they are out.
/// </summary>
/// <param name="Name">With points, as OpenTelemetry writes it: setupaudit.share.pending.</param>
/// <param name="Unit">As UCUM writes it: s, By, {file}; 1 where it has none.</param>
/// <param name="What">One sentence for people.</param>
public sealed record Metric(MetricKind Kind, string Name, string Unit, string What)
{
    /// <summary>The names of its labels, in the order in which values are given.</summary>
    public IReadOnlyList<string> Labels { get; init; } = [];

    /// <summary>The name on the page to scrape: setupaudit_share_pending, with the unit and _total where it has them.
    /// </summary>
    public string PageName =>
        Name.Replace('.', '_') + (Unit == "s" ? "_seconds" : "") + (Kind == MetricKind.Counter ? "_total" : "");
}
