using System.Text.Encodings.Web;
using System.Text.Json;
using Npgsql;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

public sealed class PartsTests
{
    private static readonly JsonSerializerOptions Plain = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    [Fact]
    public async Task The_tables_that_a_program_builds_are_those_that_verify_knows()
    {
        var text = PostgresServer.Shared.NewDatabase();
        await using var connection = new PostgresConnection(new NpgsqlConnection(text));
        await connection.OpenAsync(Token);
        await PostgresDialect.Migrations.ApplyAsync(connection, "here", Monday, Token);

        var parts = SchemaCheck.Parts(connection, PostgresDialect.Own);

        Snapshot.FileHolds(Repository.At("src/SetupAudit/Store/Postgres/Migrations/0001-tables.json"),
            JsonSerializer.Serialize(parts, Plain));
    }
}
