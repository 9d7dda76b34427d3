using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Stamps;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Makes the bundle of a setup. Its list is said in the record first, so that the bundle proves that nothing was left
/// out of it; where another service writes the store that cannot be, and the person is told.
/// </summary>
public sealed class BundleMaker(BundleOrder order, TimeProvider time)
{
    public async Task WriteAsync(Stream target, CancellationToken token)
    {
        await using var writer = await WriterAsync(token);
        var database = StoreDatabase.Of(order.Store);
        await using var connection = await database.OpenReaderAsync(token);
        using var evidence = new EvidenceFolder(database.Folder);
        var source = new BundleSource(
            database, connection, order.Setup, StampFolder.OfStore(database.Folder), order.Tell);
        BundleParts parts;
        // One moment of the record: what is said later is not in it.
        await using (await database.SnapshotAsync(connection, token)) parts = await source.PartsAsync(token);
        if (parts.Dropped.Count > 0)
            order.Tell($"{PruneWords.Were(parts.Dropped.Count)} dropped that it rests on; the bundle says when, by "
                + "whom and why.");
        var readable = Readable(parts, evidence);
        var files = Files(parts);
        var manifest = Manifest(parts, files, readable);
        files[BundleNames.Manifest] = manifest;
        if (writer is not null) await writer.SayAsync([Word(manifest, parts)], token);

        await using var snapshot = await database.SnapshotAsync(connection, token);
        var (tree, note) = await source.TreeAsync(parts.Origin, token);
        var numbers = parts.Entries.Select(entry => entry.Number).ToList();
        if (writer is not null && source.Export(Hash(manifest)) is { } said)
        {
            files[BundleNames.Entry(said.Number)] = said.Body;
            numbers.Add(said.Number);
        }
        files[BundleNames.Checkpoint] = note.ToBytes();
        foreach (var (name, bytes) in BundleWriter.Proofs(numbers, tree)) files[name] = bytes;
        foreach (var (name, bytes) in BundleWriter.Consistency(parts.Earlier, tree)) files[name] = bytes;
        await BundleWriter.WriteAsync(target, files, readable, evidence, token);
    }

    private async Task<AuditStore?> WriterAsync(CancellationToken token)
    {
        if (!StoreLock.IsHeld(order.Store.Folder))
            return await AuditStore.OpenAsync(order.Store, order.Record, time, token);
        order.Tell("A service writes this store now, so this export is not said in the record. The bundle proves what "
            + "is in it, but not that nothing was left out; to have that, stop the service and export again.");
        return null;
    }

    private List<BlobPlace> Readable(BundleParts parts, EvidenceFolder evidence)
    {
        var readable = new List<BlobPlace>();
        foreach (var place in parts.Evidence)
            try
            {
                using var bytes = evidence.Open(place);
                bytes.CopyTo(Stream.Null);
                readable.Add(place);
            }
            catch (StoreException fault)
            {
                order.Tell(fault.Message);
            }
        return readable;
    }

    private Dictionary<string, byte[]> Files(BundleParts parts)
    {
        var files = new Dictionary<string, byte[]>(order.Pages, StringComparer.Ordinal)
        {
            [BundleNames.Key] = Encoding.UTF8.GetBytes(parts.Key + "\n"),
            [BundleNames.PublicKey] = NoteSigning.PublicPem(parts.Key),
        };
        foreach (var entry in parts.Entries) files[BundleNames.Entry(entry.Number)] = entry.Body;
        foreach (var earlier in parts.Earlier)
            if (earlier.ToNote(parts.Origin) is { } note) files[BundleNames.Earlier(earlier.Size)] = note.ToBytes();
        if (parts.Stamp is var (size, answer)) files[BundleNames.Stamp(size)] = answer;
        foreach (var (entry, bytes) in parts.Rows) files[BundleNames.Rows(entry)] = bytes;
        return files;
    }

    private byte[] Manifest(BundleParts parts, Dictionary<string, byte[]> files, List<BlobPlace> evidence) =>
        new BundleManifest
        {
            Setup = order.Setup,
            Origin = parts.Origin,
            MadeUtc = UtcText.Of(time.GetUtcNow()),
            Program = order.Program,
            Files =
            [
                .. files.Select(file => new BundleFile(file.Key, file.Value.Length, Hash(file.Value)))
                    .Concat(evidence.Select(place =>
                        new BundleFile(BundleNames.Evidence(place.Sha256), place.SizeBytes, place.Sha256)))
                    .OrderBy(file => file.Name, StringComparer.Ordinal),
            ],
            EvidenceDropped = parts.Dropped,
            EvidenceMissing = [.. parts.Evidence.Except(evidence).Select(place => place.Sha256)],
        }.ToBytes();

    private RecordWord Word(byte[] manifest, BundleParts parts) => new(RecordKind.Export, Said.Of(json =>
    {
        json.WriteString("setup", order.Setup);
        json.WriteString("bundle", Hash(manifest));
        json.WriteNumber("entries", parts.Entries.Count);
    }));

    private static string Hash(byte[] bytes) => TreeHash.Of(bytes).ToString();
}
