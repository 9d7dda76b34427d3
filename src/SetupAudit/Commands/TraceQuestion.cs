using SetupAudit.Auditing;
using SetupAudit.Changes;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Tracing;

namespace SetupAudit.Commands;

/// <summary>One question about a bad part, asked of what the record holds.</summary>
/// <param name="program">The program that cut it; null for the one that was in hand.</param>
internal sealed class TraceQuestion(
    ShopConfig shop, MachineConfig machine, string? program, PartError part, DateTimeOffset moment)
{
    /// <summary>How a moment is written within a sentence: in UTC, or for people on the shop's clock.</summary>
    public Func<DateTimeOffset, string> Time { get; init; } = Word.Of;

    /// <summary>
    /// The answer as of the moment; where nothing explains the error and a cycle ran then, as of the cycle's end, for a
    /// person may know only when the cycle of the part began.
    /// </summary>
    public async Task<TraceView> AskAsync(CancellationToken token)
    {
        using var store = await StoreReader.OpenAsync(shop.Store, token);
        var history = await MachineHistory.OpenAsync(shop, machine, store, token);
        var changes = new List<Change>();
        await foreach (var row in store.DerivedAsync(Of(DerivedKind.Change), token))
            changes.Add(ShapeBody.Read<ChangeView>(row.Body).ToChange());
        var cycles = new List<Cycle>();
        await foreach (var row in store.DerivedAsync(Of(DerivedKind.Cycle), token))
            cycles.Add(ShapeBody.Read<CycleView>(row.Body).ToCycle());
        changes.Sort((one, other) => one.ToUtc.CompareTo(other.ToUtc));
        cycles.Sort((one, other) => one.StartUtc.CompareTo(other.StartUtc));
        var latest = await store.LastMomentsAsync(machine.Name, DateTimeOffset.MaxValue, token);
        var latestUtc = latest.Count == 0 ? moment : latest.Values.Max();

        var answer = await AsOfAsync(moment);
        if (answer.Unexplained && Running(cycles) is { EndUtc: { } endUtc } ran
            && await AsOfAsync(endUtc) is { Unexplained: false } later)
            answer = later with { NotRecorded = [During(ran, endUtc), .. later.NotRecorded] };
        return View(answer, changes) with { FoundWithout = history.Unread };

        async Task<Trace> AsOfAsync(DateTimeOffset atUtc) => history.Derivation.Trace(
            await history.StateAtAsync(atUtc, token), program, part, atUtc, changes, cycles, latestUtc);

        DerivedQuery Of(DerivedKind kind) => new() { Kind = kind, Machine = machine.Name };
    }

    private Cycle? Running(List<Cycle> cycles) => cycles.FindLast(cycle =>
        cycle.StartUtc <= moment && cycle.EndUtc >= moment && (program is null || cycle.Program == program));

    private string During(Cycle ran, DateTimeOffset endUtc) =>
        $"when within the cycle from {Time(ran.StartUtc)} to {Time(endUtc)} the feature was cut: by the moment "
        + "given nothing explains the error, so this is answered as of the end of that cycle";

    private TraceView View(Trace trace, List<Change> changes) => new()
    {
        Machine = machine.Name,
        AtUtc = moment,
        Changes =
        [
            .. trace.Changes.Select(change => Traced(change, changes.Find(item => item.Id == change.Change))),
        ],
        FromUtc = trace.Window?.FromUtc,
        ToUtc = trace.Window?.ToUtc,
        CyclesKnown = Word.Of(trace.CyclesKnown),
        Cycles = [.. trace.Cycles.Select(item => new ExposedCycleView(CycleView.Of(item.Cycle), item.Certain))],
        LastGood = trace.LastGood is { } last ? CycleView.Of(last) : null,
        FirstAfter = trace.FirstAfter is { } first ? CycleView.Of(first) : null,
        Unexplained = trace.Unexplained,
        UnexplainedProbability = trace.UnexplainedProbability,
        NotRecorded = trace.NotRecorded,
    };

    private static TracedChangeView Traced(TracedChange change, Change? made) => new()
    {
        Change = change.Change,
        Key = change.Key,
        Delta = change.Delta,
        Predicted = change.Predicted,
        Residual = change.Residual,
        Along = change.Along,
        Probability = change.Probability,
        Because = change.Because,
        FromUtc = made?.FromUtc,
        ToUtc = made?.ToUtc,
        By = made?.By,
        Source = made?.Source,
    };
}
