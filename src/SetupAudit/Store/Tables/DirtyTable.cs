using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>From where on each machine must be folded again.</summary>
internal static class DirtyTable
{
    private const string GetSql = """
        SELECT machine, at_utc, source, file, sha256, line, by_look_up FROM scratch_dirty WHERE machine = @Machine
        """;

    public static async Task<DirtyMark?> GetAsync(
        DbConnection connection, string machine, CancellationToken token, DbTransaction? transaction = null) =>
        (await connection.QueryFirstOrDefaultAsync<Row>(new CommandDefinition(
            GetSql, new { Machine = machine }, transaction, cancellationToken: token)))?.ToMark();

    private const string PutSql = """
        INSERT INTO scratch_dirty (machine, at_utc, source, file, sha256, line, by_look_up)
        VALUES (@Machine, @At_Utc, @Source, @File, @Sha256, @Line, @By_Look_Up)
        ON CONFLICT (machine) DO UPDATE SET at_utc = excluded.at_utc, source = excluded.source, file = excluded.file,
            sha256 = excluded.sha256, line = excluded.line, by_look_up = excluded.by_look_up
        """;

    /// <summary>Widens what is marked already.</summary>
    public static async Task PutAsync(
        DbTransaction transaction, string machine, DirtyMark mark, CancellationToken token)
    {
        var known = await GetAsync(transaction.Database(), machine, token, transaction);
        await transaction.RunAsync(PutSql, Row.From(machine, DirtyMark.Earlier(known, mark) ?? mark), token);
    }

    private const string DeleteSql = "DELETE FROM scratch_dirty WHERE machine = @Machine";

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

        public long By_Look_Up { get; init; }

        public static Row From(string machine, DirtyMark mark) => new()
        {
            Machine = machine,
            At_Utc = UtcText.Of(mark.From.AtUtc),
            Source = mark.From.Source,
            File = mark.From.File,
            Sha256 = mark.From.Sha256,
            Line = mark.From.Line,
            By_Look_Up = mark.ByLookUp ? 1 : 0,
        };

        public DirtyMark ToMark() => new(
            new SightingPosition(UtcText.Read(At_Utc), (int)Source, File, Sha256, (int)Line), By_Look_Up != 0);
    }
}
