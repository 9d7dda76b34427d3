using System.Data.Common;
using System.Runtime.CompilerServices;

namespace SetupAudit.Store.Outbox;

/// <summary>Reads what alerts said, beside a service that goes on saying it or without one.</summary>
public sealed class OutboxReader
{
    private const int PageRows = 1000;

    private readonly Func<CancellationToken, Task<DbConnection>> _connect;

    internal OutboxReader(Func<CancellationToken, Task<DbConnection>> connect) => _connect = connect;

    /// <summary>What is to be told and is not yet, behind a place in the record.</summary>
    public async Task<IReadOnlyList<StoredAlert>> PendingAsync(long after, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await AlertTable.PendingAsync(connection, after, token);
    }

    /// <summary>Everything that was looked at, by the moments of the findings.</summary>
    public async IAsyncEnumerable<StoredAlert> AlertsAsync(
        DerivedQuery query, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<StoredAlert> page;
        StoredAlert? after = null;
        do
        {
            await using (var connection = await _connect(token))
                page = await AlertTable.PageAsync(connection, query, after, PageRows, token);
            foreach (var alert in page) yield return alert;
            if (page.Count > 0) after = page[^1];
        }
        while (page.Count == PageRows);
    }

    /// <summary>
    /// What was looked at of each finding, newest word last, in pages; findings by their moments as last known.
    /// </summary>
    public async IAsyncEnumerable<IReadOnlyList<IReadOnlyList<StoredAlert>>> FindingsAsync(
        DerivedQuery query, int atOnce, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<StoredAlert> page;
        StoredAlert? after = null;
        do
        {
            await using var connection = await _connect(token);
            page = await AlertTable.NewestPageAsync(connection, query, after, atOnce, token);
            var words = (await AlertTable.WordsAsync(connection, [.. page.Select(one => one.Finding)], token))
                .ToLookup(word => (word.Machine, word.Finding));
            yield return [.. page.Select(one => words[(one.Machine, one.Finding)].ToList())];
            if (page.Count > 0) after = page[^1];
        }
        while (page.Count == atOnce);
    }

    /// <summary>SHA-256 of bytes that came, to a machine or as a sheet, after the machine was last derived.</summary>
    public async Task<IReadOnlySet<string>> NewEvidenceAsync(string machine, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await AlertTable.NewEvidenceAsync(connection, machine, token);
    }

    /// <summary>What became of these alerts.</summary>
    public async Task<IReadOnlyList<ToldAlert>> ToldAsync(IReadOnlyCollection<long> alerts, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await MessageTable.ToldAsync(connection, alerts, token);
    }

    /// <summary>What was last told of each finding of which anything was.</summary>
    public async Task<IReadOnlyList<StandingAlert>> StandingAsync(CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await MessageTable.StandingAsync(connection, token);
    }

    public async Task<IReadOnlyList<StoredMessage>> MessagesAsync(
        IReadOnlyCollection<string> ids, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await MessageTable.OfIdsAsync(connection, ids, token);
    }

    /// <summary>The messages put up since a moment, without their bodies.</summary>
    public async Task<IReadOnlyList<StoredMessage>> MessagesSinceAsync(DateTimeOffset sinceUtc, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await MessageTable.SinceAsync(connection, sinceUtc, token);
    }

    /// <summary>Every finding that a reminder told again, oldest first.</summary>
    public async Task<IReadOnlyList<RemindedAlert>> RemindedAsync(CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await RemindedTable.AllAsync(connection, token);
    }

    /// <summary>When reminders told these findings again, oldest first.</summary>
    public async Task<IReadOnlyList<RemindedAlert>> RemindedOfAsync(
        IReadOnlyCollection<string> findings, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await RemindedTable.OfFindingsAsync(connection, findings, token);
    }

    /// <summary>The newest word about every message and receiver.</summary>
    public async Task<IReadOnlyList<StoredSending>> NewestSendingsAsync(CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await SendingTable.NewestAsync(connection, token);
    }

    /// <summary>Every word about these messages, receiver by receiver, oldest first.</summary>
    public async Task<IReadOnlyList<StoredSending>> SendingsAsync(
        IReadOnlyCollection<string> messages, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await SendingTable.OfMessagesAsync(connection, messages, token);
    }

    /// <summary>Tries that had begun and of which nothing was said, by message, channel and receiver.</summary>
    public async Task<IReadOnlyDictionary<(string, string, string), DateTimeOffset>> LeasedAsync(
        CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await SendingTable.LeasedAsync(connection, token);
    }

    /// <summary>Quiet times and their ends, in the order in which they were asked for.</summary>
    public async Task<IReadOnlyList<StoredQuiet>> QuietsAsync(CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await QuietTable.AllAsync(connection, token);
    }
}
