using Serilog;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>
/// All that is on its way to one receiver, tried one after the other by a loop of its own: a receiver that is slow or
/// gone holds up no other, and not the audit.
/// </summary>
internal sealed class ChannelQueue(
    IAlertChannel channel, OutboxWriter outbox, AlertPacing pacing, string configuration, TimeProvider time)
{
    // How often it is looked whether a message is due, where nothing rings.
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    private readonly Lock _lock = new();
    private readonly List<Waiting> _open = [];
    private readonly Bell _bell = new();

    /// <summary>The channel and receiver that words are said under.</summary>
    public (string Channel, string Receiver) Name => (channel.Name, channel.To);

    /// <summary>Why no message goes this way until a person changes something; null where they do.</summary>
    public string? HeldBecause { get; private set; }

    public int Open
    {
        get
        {
            lock (_lock) return _open.Count;
        }
    }

    public void Add(Waiting waiting)
    {
        lock (_lock) _open.Add(waiting);
        _bell.Ring();
    }

    public void Hold(string because) => HeldBecause = because;

    public void Release()
    {
        HeldBecause = null;
        _bell.Ring();
    }

    /// <summary>The first word about a message that is put up.</summary>
    public StoredSending Queued(StoredMessage message) => Word(message, 0, SendingOutcome.Queued, "", message.AtUtc);

    /// <summary>A word about a message of this channel.</summary>
    public StoredSending Word(
        StoredMessage message, int tries, SendingOutcome outcome, string reason, DateTimeOffset? nextUtc) => new()
        {
            AtUtc = time.GetUtcNow(),
            Message = message.Id,
            Channel = channel.Name,
            Receiver = channel.To,
            Try = tries,
            Outcome = outcome,
            Reason = reason,
            NextUtc = nextUtc,
            Configuration = configuration,
        };

    /// <summary>Tries what is due, until it is cancelled.</summary>
    public async Task RunAsync(CancellationToken token)
    {
        while (true)
        {
            if (Next(time.GetUtcNow()) is { } due)
            {
                await TryAsync(due, token);
                token.ThrowIfCancellationRequested();
                continue;
            }
            await _bell.WaitAsync(LookEvery, time, token);
        }
    }

    /// <summary>Tries each message once, whether it is due or not; what cannot go now stays.</summary>
    public async Task<SendCount> OnceAsync(CancellationToken token)
    {
        var (sent, gaveUp) = (0, 0);
        IReadOnlyList<Waiting> all;
        lock (_lock) all = [.. _open];
        var blocked = new HashSet<string>(StringComparer.Ordinal);
        foreach (var waiting in all)
        {
            if (HeldBecause is not null) break;
            if (blocked.Contains(waiting.Message.Thread)) continue;
            var word = await TryAsync(waiting, token);
            if (word.IsOpen) blocked.Add(waiting.Message.Thread);
            else if (word.IsDead) gaveUp++;
            else sent++;
        }
        return new SendCount(sent, Open, gaveUp);
    }

    // What belongs together goes in its order: that something cleared is not told before that it was found.
    private Waiting? Next(DateTimeOffset nowUtc)
    {
        if (HeldBecause is not null) return null;
        lock (_lock)
        {
            var begun = new HashSet<string>(StringComparer.Ordinal);
            return _open.FirstOrDefault(waiting => begun.Add(waiting.Message.Thread) && waiting.IsDue(nowUtc));
        }
    }

    // Noted that it begins > sent > said what came of it: a crash between the last two sends it again, under its id.
    private async Task<StoredSending> TryAsync(Waiting waiting, CancellationToken token)
    {
        await outbox.LeaseAsync(waiting.Last, token);
        var result = await SendAsync(waiting.Message, token);
        var word = Said(waiting, result);
        // Also while the program is asked to end: else what has arrived would be sent again at the next start.
        await outbox.SayAsync(word, CancellationToken.None);
        Tell(word);
        if (word.Outcome == SendingOutcome.Final) Hold(word.Reason);
        lock (_lock)
        {
            var place = _open.IndexOf(waiting);
            if (word.IsOpen) _open[place] = waiting with { Last = word };
            else _open.RemoveAt(place);
        }
        return word;
    }

    private async Task<SendResult> SendAsync(StoredMessage message, CancellationToken token)
    {
        try
        {
            return await channel.SendAsync(MessageText.Read(message.Body), token);
        }
        catch (Exception fault) when (fault is not OperationCanceledException || !token.IsCancellationRequested)
        {
            // A channel tells what goes wrong as an outcome. Should one throw all the same, the message must not go
            // with it: it is tried again.
            Log.Error(fault, "Sending by {Channel} failed in a way that it does not know", channel.Name);
            return new SendResult(
                SendOutcome.Temporary, $"sending failed by a fault of the program: {fault.GetType().Name}");
        }
    }

    private StoredSending Said(Waiting waiting, SendResult result)
    {
        var tries = waiting.Last.Try + 1;
        var nowUtc = time.GetUtcNow();
        var isTooOld = nowUtc - waiting.SinceUtc >= pacing.GiveUp;
        var wait = RetryTimes.After(tries, waiting.Message.Id, channel.To, result.RetryAfter);
        return result.Outcome switch
        {
            SendOutcome.Sent => Word(waiting.Message, tries, SendingOutcome.Sent, result.Reason, null),
            SendOutcome.SentUnconfirmed =>
                Word(waiting.Message, tries, SendingOutcome.Unconfirmed, result.Reason, null),
            SendOutcome.Permanent => Word(waiting.Message, tries, SendingOutcome.Permanent, result.Reason, null),
            SendOutcome.Final => Word(waiting.Message, tries, SendingOutcome.Final, result.Reason, null),
            _ when isTooOld => Word(waiting.Message, tries, SendingOutcome.GivenUp,
                $"tried for as long as GiveUp says, the last time: {result.Reason}", null),
            _ => Word(waiting.Message, tries, SendingOutcome.Temporary, result.Reason, nowUtc + wait),
        };
    }

    private static void Tell(StoredSending word)
    {
        if (word.IsDead)
            Log.Error("The message {Message} did not go to {Receiver} by {Channel}: {Reason}",
                word.Message, word.Receiver, word.Channel, word.Reason);
        else if (word.IsOpen)
            Log.Warning("The message {Message} did not go to {Receiver} by {Channel} at try {Try}, and is tried again: "
                + "{Reason}", word.Message, word.Receiver, word.Channel, word.Try, word.Reason);
        else
            Log.Information("Sent the message {Message} to {Receiver} by {Channel} at try {Try}",
                word.Message, word.Receiver, word.Channel, word.Try);
    }
}
