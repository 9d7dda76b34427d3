using Npgsql;
using SetupAudit.Shop;
using SetupAudit.Store.Records;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

/// <summary>A store whose rows are in a database of the shared server, and the hands of who owns that server.</summary>
internal sealed class PostgresStore : IDisposable
{
    // Made once: a test takes a copy of it, which costs the server little.
    private static readonly Lazy<Task<PostgresStore>> Master = new(async () =>
    {
        var made = new PostgresStore();
        await made.GoOnAsync();
        NpgsqlConnection.ClearAllPools();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => made._share.Dispose();
        return made;
    });

    private readonly TempShare _share = new();

    public PostgresStore(string? text = null)
    {
        Text = text ?? PostgresServer.Shared.NewDatabase();
        Place = new StoreConfig(_share["store"], Text);
    }

    public string Text { get; }

    public StoreConfig Place { get; init; }

    public string Folder => Place.Folder;

    public string this[string name] => _share[name];

    public static async Task<PostgresStore> MadeAsync()
    {
        var master = await Master.Value;
        var name = new NpgsqlConnectionStringBuilder(master.Text).Database;
        var made = new PostgresStore(PostgresServer.Shared.NewDatabase($"TEMPLATE {name}"));
        RecordedStore.Copy(master.Folder, made.Folder);
        return made;
    }

    public Task<AuditStore> OpenAsync() => AuditStore.OpenAsync(
        Place, new RecordOptions { Shop = "Harrow Lane Works" }, new HandClock("2026-03-02T08:00:00Z"), Token);

    public async Task GoOnAsync(int from = 0)
    {
        await using var store = await OpenAsync();
        await RecordedStore.FillAsync(store, from);
    }

    public Task<RecordCheck> CheckAsync() =>
        StoreVerifier.RunAsync(new VerifyOptions { Folder = Folder, Postgres = Text }, Token);

    /// <summary>Runs statements as who owns the server, guards and foreign keys taken away and put back.</summary>
    public void Attack(string table, string sql) => Run(
        $"BEGIN; ALTER TABLE {table} DISABLE TRIGGER ALL; {sql}; ALTER TABLE {table} ENABLE TRIGGER ALL; "
        + $"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {table}_guard; COMMIT");

    public void Run(string sql) => PostgresServer.Run(Text, sql);

    public IReadOnlyList<object> Rows(string sql) => PostgresServer.Rows(Text, sql);

    public object Ask(string sql) => Rows(sql)[0];

    /// <summary>The names of all tables that are not scratch.</summary>
    public static IReadOnlyList<string> Lasting =>
        [.. SealedTables.All.Select(table => table.Name), "entry", "checkpoint"];

    public void Dispose()
    {
        // Idle sessions of a thousand tests would be more than a server takes.
        NpgsqlConnection.ClearAllPools();
        _share.Dispose();
    }
}
