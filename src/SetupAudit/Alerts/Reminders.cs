using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>
/// Stops that were told, still stand and that nobody answered: they are told again, each time after twice the wait, and
/// not for ever.
/// </summary>
internal sealed class Reminders(StoreReader store, AlertPacing pacing)
{
    private const int TimesMost = 3;

    public async Task<IReadOnlyList<MessageDraft>> OfAsync(
        AlertBook book, DateTimeOffset nowUtc, CancellationToken token)
    {
        if (pacing.Remind is not { } after) return [];
        var drafts = new List<MessageDraft>();
        foreach (var ofThread in book.Standings.Where(told => told.Severity == Severity.Stop)
            .GroupBy(told => told.Setup ?? told.Machine, StringComparer.Ordinal))
        {
            var stops = ofThread.ToList();
            if (!IsDue(stops, book, after, nowUtc)) continue;
            if (book.Quiets.Of(stops[0].Machine, nowUtc) is not null) continue;
            if (await IsAnsweredAsync(stops[0], token)) continue;
            drafts.Add(new MessageDraft(
                AlertKind.Reminder, ofThread.Key, [.. stops.Select(told => Again(told, book, nowUtc))]));
        }
        return Capped(drafts);
    }

    // The wait runs from what was told last of the thread; only reminders since then count.
    private static bool IsDue(List<StandingAlert> stops, AlertBook book, TimeSpan after, DateTimeOffset nowUtc)
    {
        var toldUtc = stops.Max(told => told.ToldUtc);
        var times = stops.SelectMany(book.Reminded).Where(atUtc => atUtc > toldUtc).Distinct().ToList();
        return times.Count == 0
            ? nowUtc - toldUtc >= after
            : times.Count < TimesMost && nowUtc - times.Max() >= after * (1 << times.Count);
    }

    // Many at once share one message that counts them, as what is raised does.
    private List<MessageDraft> Capped(List<MessageDraft> drafts) => drafts.Count <= pacing.Most
        ? drafts
        : [
            .. drafts.Take(pacing.Most - 1),
            new MessageDraft(AlertKind.Reminder, MessageDraft.SeveralSetups,
                [.. drafts.Skip(pacing.Most - 1).SelectMany(draft => draft.Tells)]),
        ];

    // A review answers a setup, whatever its verdict: somebody looked.
    private async Task<bool> IsAnsweredAsync(StandingAlert stop, CancellationToken token)
    {
        if (stop.Setup is not { } setup) return false;
        var rows = await store.BeginningAsync(DerivedKind.Setup, setup, 1, token);
        return rows is [{ Body: var body }] && ShapeBody.Read<SetupView>(body).Status
            is SetupStatus.Accepted or SetupStatus.Rejected;
    }

    // Each reminder is a message of its own: the count makes its id another one.
    private static StoredAlert Again(StandingAlert told, AlertBook book, DateTimeOffset nowUtc) => new()
    {
        Seq = book.Reminded(told).Count + 1,
        AtUtc = nowUtc,
        Machine = told.Machine,
        Finding = told.Finding,
        Setup = told.Setup,
        Rule = told.Rule,
        Severity = told.Severity,
        HeldUtc = told.HeldUtc,
        Step = AlertStep.Raised,
    };
}
