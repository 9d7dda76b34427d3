using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Store.Verifying;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

public sealed class SameRowsTests
{
    [Fact]
    public async Task A_row_has_the_same_digest_whichever_database_it_is_in()
    {
        using var server = new PostgresStore();
        using var file = new RecordedStore();
        var (inServer, inFile) = (await server.OpenAsync(), await file.OpenAsync(offBox: false));
        foreach (var store in new[] { inServer, inFile })
        {
            await RecordedStore.FillAsync(store, 0);
            await store.ReplaceDerivedAsync(Odd("a\0b\u0001c Höhe \U0001F527"), Token);
        }

        var (left, right) = (await SaidAsync(inServer), await SaidAsync(inFile));
        Assert.Equal(right, left);
        Assert.Contains(left, said => said.Contains("\"derived\"", StringComparison.Ordinal));
        await inServer.DisposeAsync();
        await inFile.DisposeAsync();
        Assert.Empty((await server.CheckAsync()).Faults);
    }

    private static DerivedBatch Odd(string text) => RecordedStore.Derived(9) with
    {
        ScopeFromUtc = Monday.AddDays(1),
        Rows =
        [
            new DerivedRow
            {
                Kind = DerivedKind.Finding,
                Id = text,
                Body = JsonSerializer.Serialize(new { message = text }),
                Setup = text,
                AtUtc = Monday.AddDays(1),
                ScopeUtc = Monday.AddDays(1),
            },
        ],
    };

    // The files that built the tables are not the same; all other rows are.
    private static async Task<List<string>> SaidAsync(AuditStore store) =>
    [
        .. (await AllAsync(store.Reader.EntriesAsync([RecordKind.Rows, RecordKind.Arrival, RecordKind.Start], Token)))
            .Where(body => SealedRows.Read(body.Said)?.Table != MigrationSet.TableName).Select(body => body.Said),
    ];
}
