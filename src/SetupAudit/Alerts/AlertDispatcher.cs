using Serilog;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>
/// Tells what was found: puts messages up out of what the store recorded, and has each receiver's queue send them. All
/// that it knows is in the store, so that it goes on where a process before it ended.
/// </summary>
public sealed class AlertDispatcher
{
    // How often it is looked whether a group waited long enough, a quiet time ended, or somebody asks for something.
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(250);

    private static readonly TimeSpan RemindEvery = TimeSpan.FromSeconds(30);

    private readonly AlertsConfig _config;
    private readonly AuditStore _store;
    private readonly TimeProvider _time;
    private readonly AlertLookUp _lookUp;
    private readonly AlertBook _book;
    private readonly IReadOnlyList<ChannelQueue> _queues;
    private readonly AlertDesk _desk;
    private long? _reminded;

    private AlertDispatcher(
        ShopConfig shop, AlertsConfig config, AuditStore store, ShareNames shares, IReadOnlyList<ChannelQueue> queues,
        TimeProvider time)
    {
        (_config, _store, _queues, _time) = (config, store, queues, time);
        _lookUp = new AlertLookUp(shop, config, store.Reader);
        _book = new AlertBook(store.Reader, shares);
        _desk = new AlertDesk(store, queues, time);
    }

    /// <summary>How many messages are on their way, and why some receivers get none.</summary>
    public SendStanding Standing => new(_queues.Sum(queue => queue.Open),
    [
        .. _queues.Where(queue => queue.HeldBecause is not null)
            .Select(queue => $"Nothing goes to {queue.Name.Receiver} by {queue.Name.Channel}: {queue.HeldBecause}."),
    ]);

    /// <summary>Takes up where the store stands.</summary>
    public static async Task<AlertDispatcher> OpenAsync(ShopConfig shop, AlertsConfig config,
        string configurationSha256, AuditStore store, ShareNames shares, IReadOnlyList<IAlertChannel> channels,
        TimeProvider time, CancellationToken token)
    {
        var queues = channels.Select(channel => new ChannelQueue(
            channel, store.Outbox, config.Pacing, configurationSha256, time)).ToList();
        await new QueueFilling(store, queues, configurationSha256, time).FillAsync(token);
        var dispatcher = new AlertDispatcher(shop, config, store, shares, queues, time);
        await dispatcher._book.LoadAsync(time.GetUtcNow() - config.Pacing.Within, token);
        return dispatcher;
    }

    /// <summary>Tells and sends until it is cancelled; then it throws as cancelled.</summary>
    public async Task RunAsync(CancellationToken token)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(token);
        var tasks = _queues.Select(queue => queue.RunAsync(stop.Token)).Append(TellAsync(stop.Token)).ToList();
        var first = await Task.WhenAny(tasks);
        // One that fails takes the others with it: the store is opened again for all of them.
        await stop.CancelAsync();
        foreach (var task in tasks) await ((Task)task).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await first;
    }

    /// <summary>Tells all there is to tell now, and tries each message once.</summary>
    public async Task<SendCount> OnceAsync(CancellationToken token)
    {
        if (await _desk.AnswerAsync(token)) await _book.QuietsAsync(token);
        await PutUpAsync(isLast: true, token);
        await RemindAsync(token);
        return (await Task.WhenAll(_queues.Select(queue => queue.OnceAsync(token))))
            .Aggregate(SendCount.None, SendCount.Add);
    }

    private async Task TellAsync(CancellationToken token)
    {
        var bell = new Bell();
        _store.OnAlerts = bell.Ring;
        try
        {
            while (true)
            {
                if (await _desk.AnswerAsync(token)) await _book.QuietsAsync(token);
                await PutUpAsync(isLast: false, token);
                if (_reminded is not { } reminded || _time.GetElapsedTime(reminded) >= RemindEvery)
                    await RemindAsync(token);
                await bell.WaitAsync(LookEvery, _time, token);
            }
        }
        finally
        {
            _store.OnAlerts = null;
        }
    }

    private async Task PutUpAsync(bool isLast, CancellationToken token)
    {
        await _book.PendingAsync(token);
        if (_book.Standing.Pending.Count == 0) return;
        var nowUtc = _time.GetUtcNow();
        var plan = AlertPlan.Of(_book.Standing, _config.Pacing, nowUtc, isLast);
        if (plan.Messages.Count == 0 && plan.NotTold.Count == 0) return;
        await PutAsync(plan.Messages, plan.NotTold, nowUtc, token);
    }

    // The messages, what each tells and the first word to each receiver are one transaction; sending comes after.
    private async Task PutAsync(IReadOnlyList<MessageDraft> drafts, IReadOnlyList<ToldAlert> notTold,
        DateTimeOffset nowUtc, CancellationToken token)
    {
        var messages = new List<StoredMessage>();
        foreach (var draft in drafts)
        {
            var message = await _lookUp.MessageAsync(draft, draft.Id, nowUtc, token);
            messages.Add(Stored(message, nowUtc));
        }
        var told = drafts.Where(draft => draft.Kind != AlertKind.Reminder)
            .SelectMany(draft => draft.Tells.Select((alert, at) =>
                new ToldAlert(alert.Seq, draft.Id, at < AlertLookUp.FindingsMost, null)))
            .Concat(notTold).ToList();
        var reminded = drafts.Where(draft => draft.Kind == AlertKind.Reminder)
            .SelectMany(draft => draft.Tells.Select((alert, at) => new RemindedAlert(
                alert.Machine, alert.Finding, draft.Id, nowUtc, at < AlertLookUp.FindingsMost))).ToList();
        var sendings = messages.SelectMany(message => _queues.Select(queue => (queue, message, queue.Queued(message))))
            .ToList();
        await _store.Outbox.PutAsync(new OutboxBatch
        {
            Messages = messages,
            Told = told,
            Reminded = reminded,
            Sendings = [.. sendings.Select(sending => sending.Item3)],
        }, token);
        _book.Put(drafts, told, nowUtc);
        foreach (var (queue, message, word) in sendings) queue.Add(new Waiting(message, word, message.AtUtc));
        if (messages.Count > 0) Log.Information("Put up {Messages} messages", messages.Count);
    }

    private async Task RemindAsync(CancellationToken token)
    {
        _reminded = _time.GetTimestamp();
        var nowUtc = _time.GetUtcNow();
        var drafts = await new Reminders(_store.Reader, _config.Pacing).OfAsync(_book, nowUtc, token);
        if (drafts.Count > 0) await PutAsync(drafts, [], nowUtc, token);
    }

    private static StoredMessage Stored(AlertMessage message, DateTimeOffset nowUtc) => new()
    {
        Id = message.Id,
        AtUtc = nowUtc,
        Kind = WordOf(message.Kind),
        Thread = message.Thread,
        Machine = message.Machine,
        Setup = message.Setup,
        Severity = message.Severity,
        Body = MessageText.Of(message),
    };

    private static string WordOf(AlertKind kind) => kind.ToString().ToLowerInvariant();
}
