using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>
/// Fills the queues of receivers with what a process before this one left on its way, and settles what became of it.
/// </summary>
internal sealed class QueueFilling(
    AuditStore store, IReadOnlyList<ChannelQueue> queues, string configuration, TimeProvider time)
{
    private const string Another = "the configuration changed, so it is tried again";

    public async Task FillAsync(CancellationToken token)
    {
        var words = await store.Reader.Outbox.NewestSendingsAsync(token);
        var leased = await store.Reader.Outbox.LeasedAsync(token);
        var queueOf = queues.ToDictionary(queue => queue.Name);
        Hold(words, queueOf);
        var open = words.Where(word => word.IsOpen || IsLifted(word, queueOf)).ToList();
        var messages = (await store.Reader.Outbox.MessagesAsync(
            [.. open.Select(word => word.Message).Distinct()], token))
            .ToDictionary(message => message.Id, StringComparer.Ordinal);
        // In the order in which the messages were put up, so that each thread goes in its order.
        foreach (var word in open.OrderBy(word => messages[word.Message].AtUtc).ToList())
        {
            var message = messages[word.Message];
            if (!queueOf.TryGetValue((word.Channel, word.Receiver), out var queue))
            {
                await GoneAsync(word, token);
                continue;
            }
            var now = await NowAsync(word, message, queue, leased, token);
            var sinceUtc = now.Outcome == SendingOutcome.Resent ? now.AtUtc : message.AtUtc;
            queue.Add(new Waiting(message, now, sinceUtc));
        }
    }

    // A receiver that needs a person stays held over a restart, as long as nothing changed.
    private void Hold(IReadOnlyList<StoredSending> words, Dictionary<(string, string), ChannelQueue> queueOf)
    {
        var tried = words.Where(word => word.Outcome is not (SendingOutcome.Queued or SendingOutcome.Interrupted));
        foreach (var ofQueue in tried.GroupBy(word => (word.Channel, word.Receiver)))
            if (ofQueue.Last() is { Outcome: SendingOutcome.Final } last && last.Configuration == configuration
                && queueOf.TryGetValue(ofQueue.Key, out var queue))
                queue.Hold(last.Reason);
    }

    private bool IsLifted(StoredSending word, Dictionary<(string, string), ChannelQueue> queueOf) =>
        word.Outcome == SendingOutcome.Final && word.Configuration != configuration
        && queueOf.ContainsKey((word.Channel, word.Receiver));

    private async Task<StoredSending> NowAsync(StoredSending word, StoredMessage message, ChannelQueue queue,
        IReadOnlyDictionary<(string, string, string), DateTimeOffset> leased, CancellationToken token)
    {
        StoredSending now;
        if (word.Outcome == SendingOutcome.Final)
            now = queue.Word(message, word.Try, SendingOutcome.Resent, Another, time.GetUtcNow());
        else if (leased.TryGetValue((word.Message, word.Channel, word.Receiver), out var begunUtc))
            now = queue.Word(message, word.Try + 1, SendingOutcome.Interrupted,
                $"a try had begun at {begunUtc:yyyy-MM-dd'T'HH:mm:ss'Z'} when the program ended; it may have arrived",
                time.GetUtcNow());
        else return word;
        await store.Outbox.SayAsync(now, token);
        return now;
    }

    private Task GoneAsync(StoredSending word, CancellationToken token) => store.Outbox.SayAsync(word with
    {
        AtUtc = time.GetUtcNow(),
        Outcome = SendingOutcome.GivenUp,
        Reason = "the configuration no longer names this receiver",
        NextUtc = null,
        Configuration = configuration,
    }, token);
}
