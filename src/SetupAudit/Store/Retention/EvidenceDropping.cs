using System.Data.Common;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Retention;

/// <summary>
/// Drops evidence within a transaction of an open store. No segment is ever written over: what stays of a segment with
/// bytes that go is copied behind the newest, and is on disk before any row says so; the files go only after that is
/// committed and anchored. A process that dies before has copied something in vain, and one that dies after leaves
/// files that the next start takes away.
/// </summary>
internal sealed class EvidenceDropping(DbConnection connection, EvidenceAppender appender, EvidenceFolder evidence)
{
    private const int AtOnce = 500;

    public async Task DropAsync(DbTransaction transaction, PruneOrder order, long pruning, Action<StoreStep>? onStep,
        CancellationToken token)
    {
        var segments = (await BlobTable.SegmentsAsync(connection, order.Sha256s, token, transaction)).ToHashSet();
        appender.Leave(segments);
        var moved = new List<BlobPlace>();
        try
        {
            foreach (var segment in segments.Order())
                await foreach (var place in BlobTable.InSegmentAsync(connection, segment, token, transaction))
                    if (!order.Sha256s.Contains(place.Sha256)) moved.Add(await CopyAsync(place, token));
            if (moved.Count > 0) appender.Flush();
            onStep?.Invoke(StoreStep.PruneMoved);
            // They come in their order, so the rows lie in it too.
            foreach (var some in order.Sha256s.Chunk(AtOnce))
                await BlobTable.DropAsync(
                    transaction, (await BlobTable.FindAsync(connection, some, token, transaction)).Values
                        .OrderBy(place => place.Sha256, StringComparer.Ordinal), pruning, token);
            await BlobTable.InsertAsync(transaction, moved, token);
        }
        catch (Exception)
        {
            appender.Disown(moved);
            throw;
        }
    }

    private async Task<BlobPlace> CopyAsync(BlobPlace place, CancellationToken token)
    {
        if (place.SizeBytes <= EvidenceAppender.LargeBytes)
            return appender.Append(place.Sha256, evidence.Read(place));
        await using var bytes = evidence.Open(place);
        return await appender.AppendAsync(place.Sha256, bytes, place.SizeBytes, token);
    }
}
