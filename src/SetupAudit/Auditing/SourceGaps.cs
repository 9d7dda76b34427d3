using SetupAudit.Findings;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>The sources of a machine that are left out, as they are recorded.</summary>
internal sealed class SourceGaps(IReadOnlyList<SourceGap> recorded)
{
    public static SourceGaps None { get; } = new([]);

    /// <summary>What must be recorded so that these are left out and no others.</summary>
    /// <param name="horizonUtc">
    /// What was derived up to here rested on every source that was not left out: so one that was never read since the
    /// program started was read until here.
    /// </param>
    public IEnumerable<(SourceGap Gap, bool IsOver)> Differences(
        IReadOnlyList<SourceGap> leftOut, DateTimeOffset horizonUtc)
    {
        foreach (var gap in recorded.Where(known => leftOut.All(one => one.Source != known.Source)))
            yield return (gap, true);
        foreach (var gap in leftOut.Where(one => recorded.All(known => known.Source != one.Source)))
            yield return (gap.ReadUntilUtc > horizonUtc ? gap : gap with { ReadUntilUtc = horizonUtc }, false);
    }

    public SourceGaps With(SourceGap gap, bool isOver) => new(
        isOver ? [.. recorded.Where(known => known.Source != gap.Source)] : [.. recorded, gap]);

    public IReadOnlyList<UnreadSource> Unread(MachineConfig machine) =>
    [
        .. recorded.OrderBy(gap => gap.Source).SelectMany(gap => machine.Watch
            .Where(watch => watch.Index == gap.Source)
            .Select(watch => new UnreadSource(watch.Folder, gap.ReadUntilUtc))),
    ];
}
