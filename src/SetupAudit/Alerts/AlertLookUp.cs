using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;
using SetupAudit.Units;

namespace SetupAudit.Alerts;

/// <summary>Looks up what a message says: the findings' sentences, what moved, what ran since.</summary>
internal sealed class AlertLookUp(ShopConfig shop, AlertsConfig config, StoreReader store)
{
    /// <summary>How many findings a message names; more are counted.</summary>
    public const int FindingsMost = 20;

    private const int MovesMost = 6;

    public async Task<AlertMessage> MessageAsync(
        MessageDraft draft, string id, DateTimeOffset nowUtc, CancellationToken token)
    {
        var listed = draft.Tells.Take(FindingsMost).ToList();
        var findings = new List<AlertFinding>();
        foreach (var ofSetup in listed.GroupBy(alert => (alert.Machine, alert.Setup)))
            findings.AddRange(await FindingsAsync(ofSetup.Key.Machine, ofSetup.Key.Setup, [.. ofSetup], token));
        var setups = draft.Tells.Select(alert => alert.Setup).Distinct().ToList();
        var machines = draft.Tells.Select(alert => alert.Machine).Distinct().Order(StringComparer.Ordinal).ToList();
        var setup = setups.Count == 1 ? setups[0] : null;
        return new AlertMessage
        {
            Id = id,
            Thread = draft.Thread,
            Kind = draft.Kind,
            Severity = draft.Severity,
            QueuedUtc = nowUtc,
            Machine = Named(machines),
            Setup = setup,
            Share = draft.Share,
            Findings = findings,
            Remainder = draft.Tells.Count - listed.Count,
            RemainderCleared = draft.Tells.Skip(FindingsMost).Count(alert => alert.Step == AlertStep.Withdrawn),
            RanSince = machines.Count == 1
                ? await RanSinceAsync(machines[0], findings.Min(finding => finding.AtUtc), token)
                : null,
            ReportLink = setup is null
                ? $"{config.ReportUrl}/"
                : $"{config.ReportUrl}/setups/{Uri.EscapeDataString(setup)}",
            Shop = shop.Name,
            TimeZone = shop.TimeZone,
        };
    }

    private async Task<IReadOnlyList<AlertFinding>> FindingsAsync(
        string machine, string? setup, IReadOnlyList<StoredAlert> alerts, CancellationToken token)
    {
        var bodies = new Dictionary<string, FindingView>(StringComparer.Ordinal);
        var since = alerts.Min(alert => alert.HeldUtc);
        var wanted = new DerivedQuery
        {
            Kind = DerivedKind.Finding,
            Machine = machine,
            Setup = setup,
            SinceUtc = setup is null ? since : null,
            UntilUtc = setup is null ? alerts.Max(alert => alert.HeldUtc) : null,
            Withdrawn = true,
        };
        await foreach (var row in store.DerivedAsync(wanted, token))
            bodies[row.Id] = ShapeBody.Read<FindingView>(row.Body);
        var changes = setup is null ? [] : await ChangesAsync(machine, setup, token);
        return [.. alerts.Select(alert => Told(alert, bodies.GetValueOrDefault(alert.Finding), changes))];
    }

    private AlertFinding Told(StoredAlert alert, FindingView? finding, IReadOnlyList<ChangeView> changes)
    {
        var cleared = alert.Step == AlertStep.Withdrawn;
        return new AlertFinding
        {
            Id = alert.Finding,
            Machine = alert.Machine,
            Setup = alert.Setup,
            Rule = alert.Rule,
            Severity = alert.Severity,
            Message = finding?.Message ?? $"{alert.Rule} was found; its sentence is in the record.",
            AtUtc = finding?.AtUtc ?? alert.HeldUtc,
            Cleared = cleared,
            Because = cleared ? alert.Because : null,
            Moves = finding is null || cleared ? [] : Moves(alert.Machine, finding, changes),
            LikelyCause = cleared ? null : finding?.Causes.MaxBy(cause => cause.Probability),
        };
    }

    private IReadOnlyList<AlertMove> Moves(
        string machine, FindingView finding, IReadOnlyList<ChangeView> changes) =>
    [
        .. changes.Where(change => IsOf(change.Key, finding) && change is { IsFirstSight: false } && change.Delta != 0m)
            .GroupBy(change => change.Key).Select(moves => moves.MaxBy(change => change.ToUtc)).OfType<ChangeView>()
            .OrderBy(change => change.Key).Take(MovesMost).Select(change => Move(machine, change)),
    ];

    private AlertMove Move(string machine, ChangeView change)
    {
        var limit = shop.Machine(machine) is { } known
            && LimitChoice.Of(shop, known, change.Key) is [.., { WhyNot: null, Limit: { Change: { } most } found }]
            ? Length.Convert(most, found.Unit ?? change.Unit, change.Unit)
            : (decimal?)null;
        return new AlertMove(OffsetName.Of(change.Key), change.Before, change.After, change.Delta, change.Unit)
        {
            Limit = limit,
        };
    }

    private static bool IsOf(OffsetKey key, FindingView finding) => finding.Tool is { } tool
        ? key.IsTool && key.Tool == tool && (finding.Of is not { } part || key.Part == part)
        : finding.Register is { } register && key.IsDatum && key.Register == register
            && (finding.Axis is not { } axis || key.Axis == axis);

    private async Task<IReadOnlyList<ChangeView>> ChangesAsync(string machine, string setup, CancellationToken token)
    {
        var changes = new List<ChangeView>();
        var wanted = new DerivedQuery { Kind = DerivedKind.Change, Machine = machine, Setup = setup };
        await foreach (var row in store.DerivedAsync(wanted, token)) changes.Add(ShapeBody.Read<ChangeView>(row.Body));
        return changes;
    }

    private async Task<string?> RanSinceAsync(string machine, DateTimeOffset sinceUtc, CancellationToken token)
    {
        var counts = new SortedDictionary<string, int>(StringComparer.Ordinal);
        var wanted = new DerivedQuery { Kind = DerivedKind.Cycle, Machine = machine, SinceUtc = sinceUtc };
        await foreach (var row in store.DerivedAsync(wanted, token))
        {
            var program = ShapeBody.Read<CycleView>(row.Body).Program ?? "a program that is not known";
            counts[program] = counts.GetValueOrDefault(program) + 1;
        }
        if (counts.Count == 0) return null;
        var ran = counts.Select(pair => FormattableString.Invariant(
            $"{pair.Key} ({pair.Value} {(pair.Value == 1 ? "cycle" : "cycles")})"));
        return $"Since then began: {string.Join(", ", ran)}.";
    }

    private static string Named(List<string> machines) => machines.Count switch
    {
        0 => "",
        <= 3 => string.Join(", ", machines),
        _ => FormattableString.Invariant($"{string.Join(", ", machines.Take(3))} and {machines.Count - 3} more"),
    };
}
