using System.Data;
using System.Data.Common;
using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>A transaction of a <see cref="PostgresConnection"/>.</summary>
internal sealed class PostgresTransaction(PostgresConnection connection, NpgsqlTransaction inner) : DbTransaction
{
    public NpgsqlTransaction Inner { get; } = inner;

    public override IsolationLevel IsolationLevel => Inner.IsolationLevel;

    protected override DbConnection DbConnection => connection;

    public override void Commit() => connection.Try(() =>
    {
        Inner.Commit();
        return true;
    });

    public override Task CommitAsync(CancellationToken cancellationToken = default) => connection.TryAsync(async () =>
    {
        await Inner.CommitAsync(cancellationToken);
        return true;
    });

    public override void Rollback() => Inner.Rollback();

    public override Task RollbackAsync(CancellationToken cancellationToken = default) =>
        Inner.RollbackAsync(cancellationToken);

    public override async ValueTask DisposeAsync()
    {
        try
        {
            await Inner.DisposeAsync();
            await base.DisposeAsync();
        }
        catch (Exception fault) when (fault is NpgsqlException or InvalidOperationException or ObjectDisposedException)
        {
            // The server undoes what was not committed by itself; what broke the connection was told before.
        }
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing) Inner.Dispose();
        base.Dispose(disposing);
    }
}
