namespace SetupAudit.Shares;

/// <summary>
/// Scans one watched folder. It keeps what it knows of the folder between scans, so one belongs to one source; it is
/// not safe to use from two threads at once.
/// </summary>
public sealed class FolderScan
{
    private readonly ShareSource _source;
    private readonly TimeProvider _time;

    public FolderScan(
        ShareSource source, IShareFiles files, TimeProvider time, IEnumerable<Position> known, ScanLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(known);
        _source = source;
        _time = time;
        _ = limits;
    }

    /// <summary>
    /// Lists the folder, reads what is new and settled, and hands it over in batches. Faults of the share are in the
    /// report; what <paramref name="takeIn"/> throws passes through, and the files of that batch come again.
    /// </summary>
    public ScanReport Run(Action<ScanBatch> takeIn, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(takeIn);
        cancel.ThrowIfCancellationRequested();
        return new ScanReport { Source = _source, StartedUtc = _time.GetUtcNow(), Clean = false, Fault = "not read yet" };
    }
}
