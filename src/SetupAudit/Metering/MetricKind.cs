namespace SetupAudit.Metering;

/// <summary>What kind of figure a metric is.</summary>
public enum MetricKind
{
    /// <summary>Only grows while the process runs.</summary>
    Counter,

    /// <summary>As it stands when it is asked for.</summary>
    Gauge,

    /// <summary>How often which duration was met.</summary>
    Histogram,
}
