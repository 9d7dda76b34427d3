using System.Data;
using System.Data.Common;
using System.Diagnostics.CodeAnalysis;
using Npgsql;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Postgres;

/// <summary>
/// A connection of which the store sees no more than of one to SQLite: texts go in and come back as they were, a list
/// is written out in a statement, and a connection that broke is told as any other fault of a database.
/// </summary>
internal sealed class PostgresConnection(NpgsqlConnection inner) : DbConnection, IRunsMany
{
    public NpgsqlConnection Inner { get; } = inner;

    /// <summary>Called when it is not used any more.</summary>
    public Action? OnClosed { get; set; }

    [AllowNull]
    public override string ConnectionString
    {
        get => Inner.ConnectionString;
        set => throw new NotSupportedException();
    }

    public override string Database => Inner.Database;

    public override string DataSource => Inner.DataSource;

    public override string ServerVersion => Inner.ServerVersion;

    public override ConnectionState State => Inner.State;

    public override void ChangeDatabase(string databaseName) => throw new NotSupportedException();

    public override void Open() => Inner.Open();

    public override Task OpenAsync(CancellationToken cancellationToken) => Inner.OpenAsync(cancellationToken);

    public override void Close() => Inner.Close();

    public override Task CloseAsync() => Inner.CloseAsync();

    public override async ValueTask DisposeAsync()
    {
        await Inner.DisposeAsync();
        await base.DisposeAsync();
    }

    public Task<int> RunManyAsync(string sql, IReadOnlyCollection<object> rows, CancellationToken token) =>
        TryAsync(() => PostgresBatch.RunAsync(Inner, sql, rows, token));

    /// <summary>Does something with the server; a connection that was lost is told as such.</summary>
    internal async Task<T> TryAsync<T>(Func<Task<T>> work)
    {
        try
        {
            return await work();
        }
        catch (Exception fault) when (IsLost(fault))
        {
            throw PostgresFaults.Lost(fault);
        }
    }

    internal T Try<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception fault) when (IsLost(fault))
        {
            throw PostgresFaults.Lost(fault);
        }
    }

    protected override DbTransaction BeginDbTransaction(IsolationLevel isolationLevel) =>
        Try(() => new PostgresTransaction(this, Inner.BeginTransaction(isolationLevel)));

    protected override async ValueTask<DbTransaction> BeginDbTransactionAsync(
        IsolationLevel isolationLevel, CancellationToken cancellationToken) =>
        new PostgresTransaction(this,
            await TryAsync(async () => await Inner.BeginTransactionAsync(isolationLevel, cancellationToken)));

    protected override DbCommand CreateDbCommand() => new PostgresCommand(this, Inner.CreateCommand());

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            Inner.Dispose();
            OnClosed?.Invoke();
        }
        base.Dispose(disposing);
    }

    // A connection that broke while it was idle is known as such only when it is used.
    private bool IsLost(Exception fault) =>
        fault is InvalidOperationException or ObjectDisposedException && Inner.State != ConnectionState.Open;
}
