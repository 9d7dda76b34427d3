using System.Diagnostics.Metrics;
using System.Globalization;
using System.Text;

namespace SetupAudit.Metering;

/// <summary>
/// The figures as plain text to scrape, in the text exposition format 0.0.4 of Prometheus. It counts from when it was
/// made; one page may be read by any number of scrapers.
/// </summary>
public sealed class MetricsPage : IDisposable
{
    public const string ContentType = "text/plain; version=0.0.4; charset=utf-8";

    /// <summary>Labels are machines and watched folders: what has more sets of them is a mistake, and is cut.</summary>
    private const int SeriesMost = 10_000;

    private readonly Lock _gate = new();
    private readonly MeterListener _listener = new();
    private readonly Dictionary<string, Metric> _metrics = MetricBook.All.ToDictionary(metric => metric.Name);
    private readonly Dictionary<string, SortedDictionary<string, Series>> _series = [];

    public MetricsPage()
    {
        _listener.InstrumentPublished = (instrument, listener) =>
        {
            if (instrument.Meter.Name == Meters.Name && _metrics.ContainsKey(instrument.Name))
                listener.EnableMeasurementEvents(instrument);
        };
        _listener.SetMeasurementEventCallback<long>((instrument, value, tags, _) => Take(instrument, value, tags));
        _listener.SetMeasurementEventCallback<double>((instrument, value, tags, _) => Take(instrument, value, tags));
        _listener.Start();
    }

    /// <summary>All figures as they stand now.</summary>
    public string Write()
    {
        lock (_gate)
        {
            foreach (var metric in MetricBook.All)
                if (metric.Kind == MetricKind.Gauge) _series.Remove(metric.Name);
            _listener.RecordObservableInstruments();
            var text = new StringBuilder();
            foreach (var metric in MetricBook.All) Write(text, metric);
            return text.ToString();
        }
    }

    public void Dispose() => _listener.Dispose();

    private void Take(Instrument instrument, double value, ReadOnlySpan<KeyValuePair<string, object?>> tags)
    {
        lock (_gate)
        {
            if (!_series.TryGetValue(instrument.Name, out var all))
                _series[instrument.Name] = all = new SortedDictionary<string, Series>(StringComparer.Ordinal);
            var labels = ExpositionText.Labels(tags);
            if (!all.TryGetValue(labels, out var one))
            {
                if (all.Count >= SeriesMost) return;
                all[labels] = one = new Series();
            }
            one.Take(_metrics[instrument.Name].Kind, value);
        }
    }

    private void Write(StringBuilder text, Metric metric)
    {
        var name = metric.PageName;
        text.Append(CultureInfo.InvariantCulture, $"# HELP {name} {ExpositionText.Help(metric.What)}\n");
        text.Append(CultureInfo.InvariantCulture, $"# TYPE {name} {ExpositionText.Word(metric.Kind)}\n");
        foreach (var (labels, one) in _series.GetValueOrDefault(metric.Name) ?? [])
            if (metric.Kind == MetricKind.Histogram) WriteBuckets(text, name, labels, one);
            else text.Append(CultureInfo.InvariantCulture,
                $"{name}{ExpositionText.Braced(labels)} {ExpositionText.Number(one.Value)}\n");
    }

    private static void WriteBuckets(StringBuilder text, string name, string labels, Series one)
    {
        var before = labels.Length == 0 ? "" : labels + ",";
        long upTo = 0;
        for (var index = 0; index < one.Counts.Length; index++)
        {
            upTo += one.Counts[index];
            var end = index < Buckets.Seconds.Count ? ExpositionText.Number(Buckets.Seconds[index]) : "+Inf";
            text.Append(CultureInfo.InvariantCulture, $"{name}_bucket{{{before}le=\"{end}\"}} {upTo}\n");
        }
        text.Append(CultureInfo.InvariantCulture,
            $"{name}_sum{ExpositionText.Braced(labels)} {ExpositionText.Number(one.Value)}\n");
        text.Append(CultureInfo.InvariantCulture, $"{name}_count{ExpositionText.Braced(labels)} {upTo}\n");
    }

    private sealed class Series
    {
        public double Value { get; private set; }

        /// <summary>Of a histogram: how many values lie in each bucket, the last one open.</summary>
        public long[] Counts { get; } = new long[Buckets.Seconds.Count + 1];

        public void Take(MetricKind kind, double value)
        {
            Value = kind == MetricKind.Gauge ? value : Value + value;
            if (kind != MetricKind.Histogram) return;
            var place = 0;
            while (place < Buckets.Seconds.Count && value > Buckets.Seconds[place]) place++;
            Counts[place]++;
        }
    }
}
