using SetupAudit.Setups;

namespace SetupAudit.Tracing;

/// <summary>
/// The parts that one or more wrong offsets may have spoiled. Several offsets, as where X and Z are off, are one
/// window from the first that became wrong to the last that was put right: a part is good only where all were.
/// </summary>
internal sealed record SpoiledParts(
    SuspectWindow? Window, IReadOnlyList<ExposedCycle> Cycles, Cycle? LastGood, Cycle? FirstAfter)
{
    public static SpoiledParts Of(WindowFinder windows, IReadOnlyList<Suspect> blamed)
    {
        if (blamed.Count == 0) return new(null, [], null, null);
        var each = blamed.DistinctBy(suspect => (suspect.Key, suspect.Change?.Id, suspect.Stale))
            .Select(suspect => (suspect.Key, Window: windows.Window(suspect))).ToList();
        var window = each.Select(item => item.Window).Aggregate((one, other) => new SuspectWindow(
            Earlier(one.FromUtc, other.FromUtc), Earlier(one.CertainFromUtc, other.CertainFromUtc),
            Later(one.CertainToUtc, other.CertainToUtc), Later(one.ToUtc, other.ToUtc), one.Undone && other.Undone));
        return new(
            window,
            [
                .. each.SelectMany(item => windows.Exposed(item.Window, item.Key)).GroupBy(item => item.Cycle)
                    .Select(group => group.FirstOrDefault(item => item.Certain) ?? group.First())
                    .OrderBy(item => item.Cycle.StartUtc),
            ],
            // What was good under each of them: the earliest of the last, the latest of the first.
            Each(item => windows.LastGood(item.Window, item.Key))?.MinBy(cycle => cycle.StartUtc),
            window.Undone
                ? Each(item => windows.FirstAfter(item.Window, item.Key))?.MaxBy(cycle => cycle.StartUtc)
                : null);

        List<Cycle>? Each(Func<(Datums.OffsetKey Key, SuspectWindow Window), Cycle?> find) =>
            each.ConvertAll(item => find(item)) is var found && found.Contains(null)
                ? null
                : [.. found.OfType<Cycle>()];
    }

    private static DateTimeOffset Earlier(DateTimeOffset one, DateTimeOffset other) => one < other ? one : other;

    private static DateTimeOffset Later(DateTimeOffset one, DateTimeOffset other) => one > other ? one : other;
}
