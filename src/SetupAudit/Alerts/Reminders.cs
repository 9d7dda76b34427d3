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
    private const int Most = 3;

    public async Task<IReadOnlyList<MessageDraft>> OfAsync(
        AlertBook book, DateTimeOffset nowUtc, CancellationToken token)
    {
        if (pacing.Remind is not { } after) return [];
        var drafts = new List<MessageDraft>();
        foreach (var ofThread in book.Standings.Where(told => told.Severity == Severity.Stop)
            .GroupBy(told => told.Setup ?? told.Machine, StringComparer.Ordinal))
        {
            var stops = ofThread.ToList();
            if (!IsDue(book.Reminded(ofThread.Key), stops.Max(told => told.ToldUtc), after, nowUtc)) continue;
            if (book.Quiets.Of(stops[0].Machine, nowUtc) is not null) continue;
            if (await IsAnsweredAsync(stops[0], token)) continue;
            drafts.Add(new MessageDraft(
                AlertKind.Reminder, ofThread.Key, [.. stops.Select(told => Again(told, book, nowUtc))]));
        }
        return drafts;
    }

    private static bool IsDue(
        (int Count, DateTimeOffset LastUtc)? reminded, DateTimeOffset toldUtc, TimeSpan after, DateTimeOffset nowUtc)
    {
        if (reminded is not { } last || last.LastUtc < toldUtc) return nowUtc - toldUtc >= after;
        return last.Count < Most && nowUtc - last.LastUtc >= after * (1 << last.Count);
    }

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
        Seq = (book.Reminded(told.Setup ?? told.Machine)?.Count ?? 0) + 1,
        AtUtc = nowUtc,
        Machine = told.Machine,
        Finding = told.Finding,
        Setup = told.Setup,
        Rule = told.Finding.Split('/').ElementAtOrDefault(1) ?? "",
        Severity = told.Severity,
        HeldUtc = told.ToldUtc,
        Step = AlertStep.Raised,
    };
}
