using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Each start of the program, and which configuration each machine's derived rows are for.</summary>
internal static class StartTable
{
    private const string InsertSql = """
        INSERT INTO start (at_utc, command, program_version, configuration_sha256)
        VALUES (@At_Utc, @Command, @Program_Version, @Configuration_Sha256)
        """;

    public static Task InsertAsync(DbTransaction transaction, StartRecord start, CancellationToken token) =>
        transaction.RunAsync(InsertSql, new Row
        {
            At_Utc = UtcText.Of(start.AtUtc),
            Command = start.Command,
            Program_Version = start.ProgramVersion,
            Configuration_Sha256 = start.ConfigurationSha256,
        }, token);

    private const string LatestSql = """
        SELECT at_utc, command, program_version, configuration_sha256 FROM start ORDER BY seq DESC LIMIT 1
        """;

    public static async Task<StartRecord?> LatestAsync(
        DbConnection connection, CancellationToken token, DbTransaction? transaction = null)
    {
        var latest = new CommandDefinition(LatestSql, transaction: transaction, cancellationToken: token);
        return await connection.QueryFirstOrDefaultAsync<Row>(latest) is { } row
            ? new StartRecord(UtcText.Read(row.At_Utc), row.Command, row.Program_Version, row.Configuration_Sha256)
            : null;
    }

    private const string MarkSql = """
        INSERT INTO scratch_derived_for (machine, configuration_sha256, program_version)
        VALUES (@Machine, @ConfigurationSha256, @ProgramVersion)
        ON CONFLICT (machine) DO UPDATE SET configuration_sha256 = excluded.configuration_sha256,
            program_version = excluded.program_version
        """;

    public static Task MarkDerivedForAsync(DbTransaction transaction, string machine, string configurationSha256,
        string programVersion, CancellationToken token) => transaction.RunAsync(MarkSql,
        new { Machine = machine, ConfigurationSha256 = configurationSha256, ProgramVersion = programVersion }, token);

    private const string IsMarkedSql = """
        SELECT COUNT(*) FROM scratch_derived_for
        WHERE machine = @Machine AND configuration_sha256 = @ConfigurationSha256 AND program_version = @ProgramVersion
        """;

    public static async Task<bool> IsDerivedForAsync(DbConnection connection, string machine,
        string configurationSha256, string programVersion, CancellationToken token) =>
        await connection.ExecuteScalarAsync<long>(new CommandDefinition(IsMarkedSql,
            new { Machine = machine, ConfigurationSha256 = configurationSha256, ProgramVersion = programVersion },
            cancellationToken: token)) > 0;

    private sealed class Row
    {
        public string At_Utc { get; init; } = "";

        public string Command { get; init; } = "";

        public string Program_Version { get; init; } = "";

        public string Configuration_Sha256 { get; init; } = "";
    }
}
