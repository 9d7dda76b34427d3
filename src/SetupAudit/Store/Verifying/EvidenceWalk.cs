using System.Globalization;
using Microsoft.Data.Sqlite;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Verifying;

/// <summary>Hashes every kept file again, in the order in which they lie on the disk.</summary>
internal sealed class EvidenceWalk(SqliteConnection connection, FaultList faults, VerifyOptions options)
{
    private const int ProgressEvery = 64;

    /// <summary>How many are as they were.</summary>
    public long Run(CancellationToken token)
    {
        using var evidence = new EvidenceFolder(options.Folder);
        var (good, seen) = (0L, 0L);
        using var rows = OpenBlobs();
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
        command.Parameters.AddWithValue("@Sha256", sha256);
        using var rows = command.ExecuteReader();
        if (!rows.Read()) return "a configuration that is kept";
        var (machine, more) = (rows.GetString(0), rows.GetInt64(2) - 1);
        return rows.GetString(1) + (machine.Length == 0 ? ", a sheet" : $" of {machine}")
            + (more == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" (and in {more} more arrivals)"));
    }

    private const string BlobsSql = """
        SELECT sha256, size_bytes, segment, position, stored_bytes FROM blob ORDER BY segment, position
        """;

    private SqliteDataReader OpenBlobs() => connection.Read(BlobsSql);
}
