using System.Data.Common;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Segments;

/// <summary>
/// Keeps bytes within a transaction of an open store: on disk first, then the rows that point to them. What a
/// transaction that fails has appended is used when the same bytes come again.
/// </summary>
internal sealed class EvidenceKeeping(DbConnection connection, EvidenceAppender appender)
{
    /// <summary>
    /// Appends the bytes of arrivals that are not kept yet, and flushes them. The rows are for the caller to write, and
    /// to disown where that fails.
    /// </summary>
    public async Task<IReadOnlyCollection<BlobPlace>> AppendAsync(DbTransaction transaction,
        IReadOnlyList<TakenArrival> fresh, Action<StoreStep>? onStep, CancellationToken token)
    {
        var withBytes = fresh.Where(taken => taken.Arrival.Refused is null)
            .DistinctBy(taken => taken.Arrival.Sha256, StringComparer.Ordinal).ToList();
        var hashes = withBytes.Select(taken => taken.Arrival.Sha256);
        var kept = await BlobTable.FindAsync(connection, hashes, token, transaction);
        var places = new List<BlobPlace>();
        try
        {
            foreach (var taken in withBytes.Where(taken => !kept.ContainsKey(taken.Arrival.Sha256)))
                places.Add(await AppendAsync(taken, token));
            onStep?.Invoke(StoreStep.EvidenceWritten);
            // Bytes on disk, then the rows that point to them, then the positions: the last two are one transaction.
            if (places.Count > 0) appender.Flush();
            onStep?.Invoke(StoreStep.EvidenceFlushed);
            return places;
        }
        catch (Exception)
        {
            appender.Disown(places);
            throw;
        }
    }

    /// <summary>Keeps some bytes and their row; nothing where they are kept already.</summary>
    public async Task KeepAsync(
        DbTransaction transaction, string sha256, ReadOnlyMemory<byte> bytes, CancellationToken token)
    {
        if ((await BlobTable.FindAsync(connection, [sha256], token, transaction)).Count > 0) return;
        var place = appender.Append(sha256, bytes.Span);
        try
        {
            appender.Flush();
            await BlobTable.InsertAsync(transaction, [place], token);
        }
        catch (Exception)
        {
            appender.Disown([place]);
            throw;
        }
    }

    private async Task<BlobPlace> AppendAsync(TakenArrival taken, CancellationToken token)
    {
        if (taken.Open is null) return appender.Append(taken.Arrival.Sha256, taken.Bytes.Span);
        await using var bytes = Opened(taken.Open);
        return await appender.AppendAsync(taken.Arrival.Sha256, bytes, taken.Arrival.SizeBytes, token);
    }

    private static Stream Opened(Func<Stream> open)
    {
        try
        {
            return open();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new SourceFault(fault);
        }
    }
}
