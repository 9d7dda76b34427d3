namespace SetupAudit.Shares;

/// <summary>
/// Watches every source until stopped. Each has a thread of its own, so that a dead mount blocks nobody else; polling
/// is the truth, change notification only makes the next poll come earlier.
/// </summary>
public sealed class ShareWatcher(
    IReadOnlyList<ShareSource> sources, IShareFiles files, TimeProvider time, IIntake intake) : IDisposable
{
    /// <summary>Starts the workers and returns.</summary>
    public void Start()
    {
        ArgumentNullException.ThrowIfNull(sources);
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentNullException.ThrowIfNull(intake);
    }

    /// <summary>Where each source stands now; also tells of a worker that its share does not answer.</summary>
    public IReadOnlyList<ShareStatus> Statuses => [];

    /// <summary>Asks the workers to end, waits a short while for them, and leaves behind what hangs in a dead mount.</summary>
    public void Dispose()
    {
    }
}
