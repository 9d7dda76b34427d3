namespace SetupAudit.Shares;

/// <summary>Takes in all that lies on the shares now: what is settled at once, the rest when it has settled.</summary>
public sealed class ShareSweep(IShareFiles files, TimeProvider time, IIntake intake)
{
    /// <summary>The last report of each source, in the order given. A source in fault is reported, not waited for.</summary>
    public IReadOnlyList<ScanReport> Run(IReadOnlyList<ShareSource> sources, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(sources);
        return [.. sources.Select(source =>
        {
            var report = new FolderScan(source, files, time, intake.Positions(source))
                .Run(batch => intake.TakeIn(batch, cancel), cancel);
            intake.Ended(report);
            return report;
        })];
    }
}
