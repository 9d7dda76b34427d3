using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Every machine's time line, in the order in which it is folded.</summary>
internal static class SightingTable
{
    private const string PutSql = """
        INSERT INTO scratch_sighting (machine, at_utc, source, file, sha256, line, earliest_utc, arrival, share_utc,
            body)
        VALUES (@Machine, @At_Utc, @Source, @File, @Sha256, @Line, @Earliest_Utc, @Arrival, @Share_Utc, @Body)
        ON CONFLICT (machine, at_utc, source, file, sha256, line) DO UPDATE SET earliest_utc = excluded.earliest_utc,
            arrival = excluded.arrival, share_utc = excluded.share_utc, body = excluded.body
        WHERE excluded.arrival <= scratch_sighting.arrival
        """;

    /// <summary>Of two arrivals that say the same at the same place, the one of the lesser id stays.</summary>
    public static Task PutAsync(
        DbTransaction transaction, IEnumerable<StoredSighting> sightings, CancellationToken token) =>
        transaction.RunAsync(PutSql, sightings.Select(Row.From).ToList(), token);

    private const string AfterSql = """
        SELECT machine, at_utc, source, file, sha256, line, earliest_utc, arrival, share_utc, body
        FROM scratch_sighting
        WHERE machine = @Machine AND (at_utc, source, file, sha256, line) > (@At_Utc, @Source, @File, @Sha256, @Line)
        ORDER BY at_utc, source, file, sha256, line LIMIT @Limit
        """;

    /// <summary>The sightings behind a position (null for all), a page at a time.</summary>
    public static async Task<IReadOnlyList<StoredSighting>> PageAsync(
        DbConnection connection, string machine, SightingPosition? after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(AfterSql, new
        {
            Machine = machine,
            At_Utc = after is null ? UtcText.Lowest : UtcText.Of(after.AtUtc),
            Source = after?.Source ?? 0,
            File = after?.File ?? "",
            Sha256 = after?.Sha256 ?? "",
            Line = after?.Line ?? 0,
            Limit = limit,
        }, cancellationToken: token));
        return [.. rows.Select(row => row.ToSighting())];
    }

    private const string MomentSql = """
        SELECT machine, at_utc, source, file, sha256, line, earliest_utc, arrival, share_utc, body
        FROM scratch_sighting
        WHERE machine = @Machine AND at_utc = @At_Utc AND source = @Source
            AND (file, sha256, line) < (@File, @Sha256, @Line)
        ORDER BY file, sha256, line
        """;

    /// <summary>What the same source showed of the same moment, before a position in the order of folding.</summary>
    public static async Task<IReadOnlyList<StoredSighting>> BesideAsync(
        DbConnection connection, string machine, SightingPosition place, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(MomentSql, new
        {
            Machine = machine,
            At_Utc = UtcText.Of(place.AtUtc),
            place.Source,
            place.File,
            place.Sha256,
            place.Line,
        }, cancellationToken: token));
        return [.. rows.Select(row => row.ToSighting())];
    }

    private const string DeleteSql = "DELETE FROM scratch_sighting WHERE machine = @Machine";

    public static Task DeleteAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(DeleteSql, new { Machine = machine }, token);

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public long Source { get; init; }

        public string File { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public long Line { get; init; }

        public string Earliest_Utc { get; init; } = "";

        public string Arrival { get; init; } = "";

        public string? Share_Utc { get; init; }

        public string? Body { get; init; }

        public static Row From(StoredSighting sighting) => new()
        {
            Machine = sighting.Machine,
            At_Utc = UtcText.Of(sighting.Position.AtUtc),
            Source = sighting.Position.Source,
            File = sighting.Position.File,
            Sha256 = sighting.Position.Sha256,
            Line = sighting.Position.Line,
            Earliest_Utc = UtcText.Of(sighting.EarliestUtc),
            Arrival = sighting.Arrival,
            Share_Utc = UtcText.Of(sighting.ShareUtc),
            Body = sighting.Body,
        };

        public StoredSighting ToSighting() => new()
        {
            Machine = Machine,
            Position = new SightingPosition(UtcText.Read(At_Utc), (int)Source, File, Sha256, (int)Line),
            EarliestUtc = UtcText.Read(Earliest_Utc),
            Arrival = Arrival,
            ShareUtc = UtcText.ReadNullable(Share_Utc),
            Body = Body,
        };
    }
}
