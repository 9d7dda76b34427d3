using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// What stands against an answer before cutting that the current setup does not show: findings and verdicts of the
/// earlier setups that left a value which is needed now, and files since the last word that could not be read.
/// </summary>
internal static class EarlierDoubts
{
    private const int FilesMost = 5;

    /// <summary>The case with what was found; the answer without it says what is needed, and how old the word is.
    /// </summary>
    public static async Task<ReadyCase> AddAsync(
        ReadyCase asked, ReadyView answer, StoreReader store, CancellationToken token)
    {
        var (findings, words) = (new List<FindingView>(), new List<string>(asked.AlsoUnknown));
        foreach (var (id, left) in await LeftByAsync(answer, store, token))
        {
            var setup = await SetupRows.ReadAsync(store, id, token);
            if (setup.Head.Status == SetupStatus.Accepted) continue;
            findings.AddRange(setup.Findings.Where(finding => finding.Severity >= Severity.High
                && left.Any(item => Names(finding, item.Key) && StillHolds(finding, item.Value))));
            if (setup.Head is { Status: SetupStatus.Rejected, Review: { } review })
                words.Add($"{setup.Head.Setup}, which left {string.Join(", ", left.Select(item => item.Key))} as "
                    + $"it stands, was rejected by {review.By}: {review.Reason}");
        }
        words.AddRange(await NotReadAsync(answer, store, token));
        return asked with { Earlier = findings, AlsoUnknown = words };
    }

    private static async Task<IReadOnlyList<(StoredDerived Setup, List<(OffsetKey Key, OffsetView Value)> Left)>>
        LeftByAsync(ReadyView answer, StoreReader store, CancellationToken token)
    {
        var left = Needed(answer).Where(item => item.Value is { Set: false, SinceUtc: not null })
            .OrderBy(item => item.Value.SinceUtc).ToList();
        if (left.Count == 0) return [];
        var setups = new List<StoredDerived>();
        var query = new DerivedQuery
        {
            Kind = DerivedKind.Setup,
            Machine = answer.Machine,
            UntilUtc = left[^1].Value.SinceUtc,
        };
        await foreach (var setup in store.DerivedAsync(query, token)) setups.Add(setup);
        var found = new List<(StoredDerived Setup, List<(OffsetKey Key, OffsetView Value)> Left)>();
        foreach (var item in left)
        {
            if (setups.FindLast(one => one.AtUtc <= item.Value.SinceUtc) is not { } setup) continue;
            if (setup.Id == answer.Setup) continue;
            if (found.Count == 0 || found[^1].Setup.Id != setup.Id) found.Add((setup, []));
            found[^1].Left.Add(item);
        }
        return found;
    }

    private static IEnumerable<(OffsetKey Key, OffsetView Value)> Needed(ReadyView answer) =>
        answer.Registers.SelectMany(register => register.Axes
            .Select(item => (OffsetKey.Datum(register.Register, item.Axis), item.Value)))
        .Concat(answer.Tools.SelectMany(tool => tool.Parts
            .Select(item => (OffsetKey.OfTool(tool.Tool, item.Part), item.Value))))
        .Where(item => item.Value.Needed);

    private static bool Names(FindingView finding, OffsetKey key) => key.IsTool
        ? finding.Tool == key.Tool && (finding.Of is null || finding.Of == key.Part)
        : finding.Register == key.Register && (finding.Axis is null || finding.Axis == key.Axis);

    // What was put right since stands against nothing; what was only trimmed does.
    private static bool StillHolds(FindingView finding, OffsetView value) => value.SinceUtc <= finding.AtUtc
        || (finding is { Value: { } doubted, Expected: { } expected } && value.After is { } now
            && Math.Abs(now - doubted) < Math.Abs(now - expected));

    private static async Task<IReadOnlyList<string>> NotReadAsync(
        ReadyView answer, StoreReader store, CancellationToken token)
    {
        var (words, count) = (new List<string>(), 0);
        var query = new DerivedQuery
        {
            Kind = DerivedKind.Finding,
            Machine = answer.Machine,
            SinceUtc = answer.AsOfUtc,
        };
        await foreach (var row in store.DerivedAsync(query, token))
            if (ShapeBody.Read<FindingView>(row.Body) is { Rule: "unreadable" } finding && ++count <= FilesMost)
                words.Add($"since the last word a file could not be read whole: {finding.Message}");
        if (count > FilesMost) words.Add($"and {count - FilesMost} more such files");
        return words;
    }
}
