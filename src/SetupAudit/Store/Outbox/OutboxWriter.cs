using System.Data.Common;
using SetupAudit.Records;

namespace SetupAudit.Store.Outbox;

/// <summary>Writes what alerts say, through the one who writes the store.</summary>
public sealed class OutboxWriter
{
    private readonly Func<Func<DbTransaction, Task>, CancellationToken, Task> _write;
    private readonly Action<RecordWord> _say;
    private readonly TimeProvider _time;

    internal OutboxWriter(
        Func<Func<DbTransaction, Task>, CancellationToken, Task> write, Action<RecordWord> say, TimeProvider time) =>
        (_write, _say, _time) = (write, say, time);

    /// <summary>Puts messages up and says what they tell, all or nothing.</summary>
    public Task PutAsync(OutboxBatch batch, CancellationToken token) => _write(async transaction =>
    {
        await MessageTable.InsertAsync(transaction, batch.Messages, token);
        await MessageTable.TellAsync(transaction, batch.Told, _time.GetUtcNow(), token);
        await RemindedTable.InsertAsync(transaction, batch.Reminded, token);
        await SendingTable.InsertAsync(transaction, batch.Sendings, token);
        foreach (var sending in batch.Sendings) _say(OutboxWords.Of(sending));
    }, token);

    /// <summary>Notes that a try begins, so that one that is cut off is known to have begun.</summary>
    public Task LeaseAsync(StoredSending sending, CancellationToken token) =>
        _write(transaction => SendingTable.LeaseAsync(transaction, sending, _time.GetUtcNow(), token), token);

    /// <summary>Says what came of a try, which is over with it.</summary>
    public Task SayAsync(StoredSending sending, CancellationToken token) => _write(async transaction =>
    {
        await SendingTable.InsertAsync(transaction, [sending], token);
        await SendingTable.ReleaseAsync(transaction, sending, token);
        _say(OutboxWords.Of(sending));
    }, token);

    /// <summary>Keeps a quiet time or its end; one that is kept already is left as it is.</summary>
    public Task QuietAsync(StoredQuiet quiet, CancellationToken token) => _write(async transaction =>
    {
        if (await QuietTable.InsertAsync(transaction, quiet, token)) _say(OutboxWords.Of(quiet));
    }, token);
}
