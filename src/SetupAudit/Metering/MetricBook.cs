namespace SetupAudit.Metering;

/// <summary>Every metric there is; docs/operations.md shows the same, and a test holds it to that.</summary>
public static class MetricBook
{
    public static Metric Arrivals { get; } = new(MetricKind.Counter, "setupaudit.arrivals", "{arrival}",
        "Versions of files, and pieces of print-outs, that were taken in.")
    { Labels = ["machine"] };

    public static Metric Unreadable { get; } = new(MetricKind.Counter, "setupaudit.arrivals.unreadable", "{arrival}",
        "Arrivals that could not be read, or only in part.")
    { Labels = ["machine"] };

    public static Metric Raised { get; } = new(MetricKind.Counter, "setupaudit.findings.raised", "{finding}",
        "Findings that were raised, or raised again.")
    { Labels = ["machine"] };

    public static Metric Withdrawn { get; } = new(MetricKind.Counter, "setupaudit.findings.withdrawn", "{finding}",
        "Findings that were withdrawn.")
    { Labels = ["machine"] };

    public static Metric Derive { get; } = new(MetricKind.Histogram, "setupaudit.derive.duration", "s",
        "How long it took to read what came of a machine and derive it.")
    { Labels = ["machine"] };

    public static Metric TakeIn { get; } = new(MetricKind.Histogram, "setupaudit.takein.duration", "s",
        "How long it took from handing over what a share showed until it was durable.");

    public static Metric ShareFaults { get; } = new(MetricKind.Counter, "setupaudit.share.faults", "{fault}",
        "Scans of a watched folder that a fault of the share ended.")
    { Labels = ["machine", "source"] };

    public static Metric TornReads { get; } = new(MetricKind.Counter, "setupaudit.share.torn", "{read}",
        "Reads of a file that changed or ended early meanwhile, and do not count.")
    { Labels = ["machine", "source"] };

    public static Metric ShareUp { get; } = new(MetricKind.Gauge, "setupaudit.share.up", "1",
        "1 where the last scan of the watched folder was clean, else 0.")
    { Labels = ["machine", "source"] };

    public static Metric ShareClean { get; } = new(MetricKind.Gauge, "setupaudit.share.clean.age", "s",
        "How long ago the last clean scan began; not there before the first.")
    { Labels = ["machine", "source"] };

    public static Metric ShareBlocked { get; } = new(MetricKind.Gauge, "setupaudit.share.blocked", "s",
        "For how long the share has not answered the call in hand; 0 where none waits.")
    { Labels = ["machine", "source"] };

    public static Metric SharePending { get; } = new(MetricKind.Gauge, "setupaudit.share.pending", "{file}",
        "Files that wait to settle, or will be tried again.")
    { Labels = ["machine", "source"] };

    public static Metric ShareFiles { get; } = new(MetricKind.Gauge, "setupaudit.share.files", "{file}",
        "Files that the watched folder listed last.")
    { Labels = ["machine", "source"] };

    public static Metric Backlog { get; } = new(MetricKind.Gauge, "setupaudit.backlog", "{arrival}",
        "Arrivals that were taken in and are not read yet.")
    { Labels = ["machine"] };

    public static Metric HorizonAge { get; } = new(MetricKind.Gauge, "setupaudit.horizon.age", "s",
        "How far behind the moment lies up to which all answering sources of a machine were read.")
    { Labels = ["machine"] };

    public static Metric StoreFailures { get; } = new(MetricKind.Counter, "setupaudit.store.failures", "{failure}",
        "Times the store failed and was closed.");

    public static Metric LoopAge { get; } = new(MetricKind.Gauge, "setupaudit.loop.age", "s",
        "How long ago the loop last showed progress.");

    public static Metric Reloads { get; } = new(MetricKind.Counter, "setupaudit.configuration.reloads", "{reload}",
        "New configurations; outcome is taken or refused.")
    { Labels = ["outcome"] };

    public static Metric Stamps { get; } = new(MetricKind.Counter, "setupaudit.stamps", "{stamp}",
        "Time stamps that the authority was asked for; outcome is kept or failed.")
    { Labels = ["outcome"] };

    public static Metric Uptime { get; } = new(MetricKind.Gauge, "setupaudit.uptime", "s",
        "How long the service has been running.")
    { Labels = ["version"] };

    public static IReadOnlyList<Metric> All { get; } =
    [
        Arrivals, Unreadable, Raised, Withdrawn, Derive, TakeIn, ShareFaults, TornReads, ShareUp, ShareClean,
        ShareBlocked, SharePending, ShareFiles, Backlog, HorizonAge, StoreFailures, LoopAge, Reloads, Stamps,
        Uptime,
    ];
}
