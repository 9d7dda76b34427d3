using System.Data.Common;
using System.Globalization;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Hashes every kept file again, in the order in which they lie on the disk. What was dropped is not there to be
/// hashed; that it was dropped is a row like any other, and held by its seal.
/// </summary>
internal sealed class EvidenceWalk(
    StoreDatabase database, DbConnection connection, FaultList faults, VerifyOptions options)
{
    private const int ProgressEvery = 64;

    /// <summary>How many are as they were.</summary>
    public long Run(CancellationToken token)
    {
        using var evidence = new EvidenceFolder(options.Folder);
        var (good, seen) = (0L, 0L);
        using var rows = database.Walk(connection, Prunes() ? PlacesSql : BlobsSql);
        while (rows.Read())
        {
            token.ThrowIfCancellationRequested();
            var place = new BlobPlace(
                rows.GetString(0), rows.GetInt32(2), rows.GetInt64(3), rows.GetInt64(4), rows.GetInt64(1));
            if (Holds(evidence, place)) good++;
            if (++seen % ProgressEvery == 0) options.Progress?.Report(("files of evidence", seen));
        }
        return good;
    }

    private bool Holds(EvidenceFolder evidence, BlobPlace place)
    {
        try
        {
            using var bytes = evidence.Open(place);
            bytes.CopyTo(Stream.Null);
            return true;
        }
        catch (Exception fault) when (fault is StoreException or IOException or UnauthorizedAccessException
            or ZstdSharp.ZstdException or OverflowException or ArgumentException)
        {
            faults.Add(FaultCode.EvidenceAltered, $"{Kept(place.Sha256)}: {fault.Message}");
            return false;
        }
    }

    private const string WhoseSql = """
        SELECT machine, file, (SELECT COUNT(*) FROM arrival WHERE sha256 = @Sha256)
        FROM arrival WHERE sha256 = @Sha256 ORDER BY seq LIMIT 1
        """;

    // Which file it is, as a person knows it: the first arrival that brought these bytes.
    private string Kept(string sha256)
    {
        if (faults.IsFull) return "a kept file";
        using var command = connection.CreateCommand();
        command.CommandText = WhoseSql;
        command.With("@Sha256", sha256);
        using var rows = command.ExecuteReader();
        if (!rows.Read()) return "a configuration that is kept";
        var (machine, more) = (rows.GetString(0), rows.GetInt64(2) - 1);
        return rows.GetString(1) + (machine.Length == 0 ? ", a sheet" : $" of {machine}")
            + (more == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" (and in {more} more arrivals)"));
    }

    private const string BlobsSql = """
        SELECT sha256, size_bytes, segment, position, stored_bytes FROM blob ORDER BY segment, position
        """;

    private const string PlacesSql = """
        SELECT b.sha256, b.size_bytes, COALESCE(p.segment, b.segment) AS segment,
            COALESCE(p.position, b.position) AS position, COALESCE(p.stored_bytes, b.stored_bytes)
        FROM blob b LEFT JOIN placed p ON p.seq = (SELECT MAX(n.seq) FROM placed n WHERE n.sha256 = b.sha256)
        WHERE NOT EXISTS (SELECT 1 FROM dropped d WHERE d.sha256 = b.sha256
            AND d.segment = COALESCE(p.segment, b.segment) AND d.position = COALESCE(p.position, b.position))
        ORDER BY segment, position
        """;

    private const string DroppedSql = """
        SELECT q.at_utc, q.before_utc, q.reason, q.signatures, COUNT(*), CAST(SUM(d.size_bytes) AS BIGINT)
        FROM dropped d JOIN pruning q ON q.seq = d.pruning GROUP BY q.seq ORDER BY q.seq
        """;

    /// <summary>What was dropped, a sentence an act.</summary>
    public IEnumerable<string> Dropped()
    {
        if (!Prunes()) yield break;
        using var rows = connection.Read(DroppedSql);
        while (rows.Read())
        {
            var who = PeopleText.Read<IReadOnlyList<PruneSignature>>(rows.GetString(3)) ?? [];
            yield return string.Create(CultureInfo.InvariantCulture,
                $"{PruneWords.Were(rows.GetInt64(4))} dropped on {Day(rows, 0)}, from before {Day(rows, 1)}, by "
                + $"{string.Join(" and ", who.Select(one => one.Name))} ({rows.GetString(2)}), "
                + $"{rows.GetInt64(5)} bytes; their entries and proofs hold as ever.");
        }
    }

    private static string Day(DbDataReader rows, int column) =>
        UtcText.Read(rows.GetString(column)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    // A store that an earlier version wrote has dropped nothing.
    private bool Prunes()
    {
        using var tables = connection.Read(database.Dialect.TablesSql);
        while (tables.Read())
            if (tables.GetString(0) == SealedTables.Dropped) return true;
        return false;
    }
}
