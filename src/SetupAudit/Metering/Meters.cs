using System.Collections.Concurrent;
using System.Diagnostics.Metrics;

namespace SetupAudit.Metering;

/// <summary>
/// Where figures are told: the instruments of <see cref="MetricBook"/>. Whoever listens (the page, the OTLP exporter, a
/// diagnostic tool) listens to the meter by its name; where nobody does, telling costs nothing.
/// </summary>
public static class Meters
{
    public const string Name = "SetupAudit";

    private static readonly Meter Meter = new(Name);

    private static readonly ConcurrentDictionary<Metric, Counter<long>> Counters = new();
    private static readonly ConcurrentDictionary<Metric, Histogram<double>> Histograms = new();

    /// <summary>Adds to a counter.</summary>
    /// <param name="labels">Values of the metric's labels, in their order.</param>
    public static void Count(Metric metric, long count = 1, params ReadOnlySpan<string> labels)
    {
        ArgumentNullException.ThrowIfNull(metric);
        if (count == 0) return;
        Counters.GetOrAdd(metric, static one => Meter.CreateCounter<long>(one.Name, one.Unit, one.What))
            .Add(count, Tags(metric, labels));
    }

    /// <summary>Notes a duration.</summary>
    public static void Took(Metric metric, TimeSpan duration, params ReadOnlySpan<string> labels)
    {
        ArgumentNullException.ThrowIfNull(metric);
        Histograms.GetOrAdd(metric, static one => Meter.CreateHistogram(one.Name, one.Unit, one.What,
            advice: new InstrumentAdvice<double> { HistogramBucketBoundaries = Buckets.Seconds }))
            .Record(duration.TotalSeconds, Tags(metric, labels));
    }

    /// <summary>Shows a gauge as it stands whenever it is asked for, until the result is disposed.</summary>
    public static IDisposable Show(Metric metric, Func<IEnumerable<Figure>> now)
    {
        ArgumentNullException.ThrowIfNull(metric);
        // An instrument cannot be taken back, but its meter can.
        var meter = new Meter(Name);
        meter.CreateObservableGauge(metric.Name,
            () => now().Select(figure => new Measurement<double>(figure.Value, Tags(metric, figure.Labels))),
            metric.Unit, metric.What);
        return meter;
    }

    private static KeyValuePair<string, object?>[] Tags(Metric metric, ReadOnlySpan<string> values)
    {
        if (values.Length != metric.Labels.Count)
            throw new ArgumentException($"{metric.Name} has {metric.Labels.Count} labels, not {values.Length}");
        var tags = new KeyValuePair<string, object?>[values.Length];
        for (var index = 0; index < tags.Length; index++) tags[index] = new(metric.Labels[index], values[index]);
        return tags;
    }
}
