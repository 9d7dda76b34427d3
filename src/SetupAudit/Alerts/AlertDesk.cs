using System.Globalization;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>Does what people ask of alerts, for the process that holds the store.</summary>
public sealed class AlertDesk
{
    private readonly AuditStore _store;
    private readonly IReadOnlyList<ChannelQueue> _queues;
    private readonly TimeProvider _time;
    private readonly AskBox _box;

    internal AlertDesk(AuditStore store, IReadOnlyList<ChannelQueue> queues, TimeProvider time)
    {
        (_store, _queues, _time) = (store, queues, time);
        _box = new AskBox(store.Folder);
        _box.Tidy(time.GetUtcNow());
    }

    /// <summary>The desk of a command: what it has sent again goes out when the service or <c>once</c> runs.</summary>
    public static AlertDesk Of(AlertsConfig? config, string configurationSha256, AuditStore store, TimeProvider time) =>
        new(store, [.. AlertChannels.Of(config, time).Select(channel => new ChannelQueue(
            channel, store.Outbox, config?.Pacing ?? new AlertPacing(), configurationSha256, time))], time);

    /// <summary>Does what waits in the box, and answers it. True where anything did.</summary>
    public async Task<bool> AnswerAsync(CancellationToken token)
    {
        var waiting = _box.Waiting();
        foreach (var ask in waiting) _box.Say(await DoAsync(ask, token));
        return waiting.Count > 0;
    }

    /// <summary>Does one thing, and says what came of it.</summary>
    public async Task<AlertAnswer> DoAsync(AlertAsk ask, CancellationToken token)
    {
        if (ask.Quiet is not { } quiet) return await ResendAsync(ask, token);
        if (quiet.Cancels is { } ended)
        {
            var known = new QuietTimes(await _store.Reader.Outbox.QuietsAsync(token)).NotEnded;
            var matches = known.Where(row => row.Id.StartsWith(ended, StringComparison.Ordinal)).ToList();
            if (matches.Count != 1)
                return new AlertAnswer(ask.Id, false, $"No quiet time that still runs has an id that begins {ended}.");
            quiet = quiet with { Cancels = matches[0].Id, Machine = matches[0].Machine };
        }
        await _store.Outbox.QuietAsync(quiet, token);
        return new AlertAnswer(ask.Id, true, quiet.Id);
    }

    private async Task<AlertAnswer> ResendAsync(AlertAsk ask, CancellationToken token)
    {
        var words = await _store.Reader.Outbox.NewestSendingsAsync(token);
        var asked = ask.Resend is { } id ? await OfAsync(id, words, token) : [.. words.Where(word => word.IsDead)];
        var messages = (await _store.Reader.Outbox.MessagesAsync(
            [.. asked.Select(word => word.Message).Distinct()], token))
            .ToDictionary(message => message.Id, StringComparer.Ordinal);
        var count = 0;
        foreach (var word in asked.Where(word => !word.IsOpen))
        {
            if (_queues.FirstOrDefault(queue => queue.Name == (word.Channel, word.Receiver)) is not { } queue) continue;
            var message = messages[word.Message];
            var now = queue.Word(message, word.Try, SendingOutcome.Resent, "a person asked for it", _time.GetUtcNow());
            await _store.Outbox.SayAsync(now, token);
            queue.Add(new Waiting(message, now, now.AtUtc));
            queue.Release();
            count++;
        }
        return count == 0
            ? new AlertAnswer(ask.Id, false, ask.Resend is null
                ? asked.Count == 0
                    ? "No message is on the dead list."
                    : "What is on the dead list was for receivers that the configuration no longer names."
                : $"No message that has ended its way, to a receiver that the configuration names, has an id that "
                    + $"begins {ask.Resend} or tells such a finding.")
            : new AlertAnswer(ask.Id, true, string.Create(CultureInfo.InvariantCulture,
                $"{count} {(count == 1 ? "message is" : "messages are")} put up again."));
    }

    // A message by its own id, or every message that tells a finding.
    private async Task<IReadOnlyList<StoredSending>> OfAsync(
        string id, IReadOnlyList<StoredSending> words, CancellationToken token)
    {
        var own = words.Where(word => word.Message.StartsWith(id, StringComparison.Ordinal)).ToList();
        if (own.Count > 0) return own;
        var alerts = new List<long>();
        await foreach (var alert in _store.Reader.Outbox.AlertsAsync(
            new DerivedQuery { Kind = DerivedKind.Finding }, token))
            if (alert.Finding.StartsWith(id, StringComparison.Ordinal)) alerts.Add(alert.Seq);
        var told = (await _store.Reader.Outbox.ToldAsync(alerts, token)).Select(one => one.Message).ToHashSet();
        return [.. words.Where(word => told.Contains(word.Message))];
    }
}
