using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What the store holds that is still to be told, and what was told last, kept up as it goes on.</summary>
internal sealed class AlertBook(StoreReader reader, ShareNames shares)
{
    private readonly Dictionary<(string Machine, string Finding), StandingAlert> _told = [];
    private readonly List<StoredAlert> _pending = [];
    private readonly List<DateTimeOffset> _recent = [];
    private readonly Dictionary<(string Machine, string Finding), List<DateTimeOffset>> _reminded = [];
    private QuietTimes _quiets = new([]);
    private DateTimeOffset? _lastDigestUtc;
    private long _seen;

    public AlertPlan.Standing Standing => new()
    {
        Pending = _pending,
        Told = alert => _told.GetValueOrDefault((alert.Machine, alert.Finding)),
        Standings = Standings,
        ShareOf = shares.Of,
        Quiets = _quiets,
        Recent = _recent,
        LastDigestUtc = _lastDigestUtc,
    };

    public QuietTimes Quiets => _quiets;

    /// <summary>What was told to stand, and nothing that it cleared.</summary>
    public IEnumerable<StandingAlert> Standings => _told.Values.Where(told => told.Step != AlertStep.Withdrawn);

    /// <summary>When a finding was told again, oldest first.</summary>
    public IReadOnlyList<DateTimeOffset> Reminded(StandingAlert told) =>
        _reminded.TryGetValue((told.Machine, told.Finding), out var reminded) ? reminded : [];

    public async Task LoadAsync(DateTimeOffset recentSinceUtc, CancellationToken token)
    {
        foreach (var told in await reader.Outbox.StandingAsync(token)) _told[(told.Machine, told.Finding)] = told;
        foreach (var message in await reader.Outbox.MessagesSinceAsync(recentSinceUtc, token))
            Count(Enum.Parse<AlertKind>(message.Kind, ignoreCase: true), message.AtUtc);
        foreach (var one in await reader.Outbox.RemindedAsync(token)) Remind(one.Machine, one.Finding, one.AtUtc);
        await QuietsAsync(token);
    }

    public async Task QuietsAsync(CancellationToken token) =>
        _quiets = new QuietTimes(await reader.Outbox.QuietsAsync(token));

    /// <summary>Takes up what was recorded since it last looked.</summary>
    public async Task PendingAsync(CancellationToken token)
    {
        var more = await reader.Outbox.PendingAsync(_seen, token);
        _pending.AddRange(more);
        if (more.Count > 0) _seen = more[^1].Seq;
    }

    /// <summary>Takes note of what was put up.</summary>
    public void Put(IReadOnlyList<MessageDraft> drafts, IReadOnlyList<ToldAlert> told, DateTimeOffset nowUtc)
    {
        var done = told.Select(one => one.Alert).ToHashSet();
        _pending.RemoveAll(alert => done.Contains(alert.Seq));
        foreach (var draft in drafts)
        {
            Count(draft.Kind, nowUtc);
            foreach (var alert in draft.Tells)
                if (draft.Kind == AlertKind.Reminder) Remind(alert.Machine, alert.Finding, nowUtc);
                else _told[(alert.Machine, alert.Finding)] = StandingOf(alert, nowUtc);
        }
    }

    private void Remind(string machine, string finding, DateTimeOffset atUtc)
    {
        if (!_reminded.TryGetValue((machine, finding), out var times)) _reminded[(machine, finding)] = times = [];
        times.Add(atUtc);
    }

    private void Count(AlertKind kind, DateTimeOffset atUtc)
    {
        if (kind == AlertKind.Digest) _lastDigestUtc = atUtc;
        else if (kind is AlertKind.Raised or AlertKind.Cleared) _recent.Add(atUtc);
        // Only the last few count; the list must not grow with the years.
        if (_recent.Count > 10_000) _recent.RemoveRange(0, 5_000);
    }

    private static StandingAlert StandingOf(StoredAlert alert, DateTimeOffset nowUtc) => new()
    {
        Machine = alert.Machine,
        Finding = alert.Finding,
        Setup = alert.Setup,
        Rule = alert.Rule,
        HeldUtc = alert.HeldUtc,
        Severity = alert.Severity,
        Step = alert.Step,
        ToldUtc = nowUtc,
    };
}
