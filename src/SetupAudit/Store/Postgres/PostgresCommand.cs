using System.Data;
using System.Data.Common;
using System.Diagnostics.CodeAnalysis;
using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>A statement of a <see cref="PostgresConnection"/>.</summary>
internal sealed class PostgresCommand(PostgresConnection connection, NpgsqlCommand inner) : DbCommand
{
    [AllowNull]
    public override string CommandText
    {
        get => inner.CommandText;
        set => inner.CommandText = value;
    }

    public override int CommandTimeout
    {
        get => inner.CommandTimeout;
        set => inner.CommandTimeout = value;
    }

    public override CommandType CommandType
    {
        get => inner.CommandType;
        set => inner.CommandType = value;
    }

    public override bool DesignTimeVisible { get; set; }

    public override UpdateRowSource UpdatedRowSource
    {
        get => inner.UpdatedRowSource;
        set => inner.UpdatedRowSource = value;
    }

    protected override DbConnection? DbConnection
    {
        get => connection;
        set
        {
            if (value != connection) throw new NotSupportedException();
        }
    }

    protected override DbParameterCollection DbParameterCollection => inner.Parameters;

    protected override DbTransaction? DbTransaction { get; set; }

    public override void Cancel() => inner.Cancel();

    public override void Prepare() => inner.Prepare();

    public override int ExecuteNonQuery() => connection.Try(() => Ready().ExecuteNonQuery());

    public override Task<int> ExecuteNonQueryAsync(CancellationToken cancellationToken) =>
        connection.TryAsync(() => Ready().ExecuteNonQueryAsync(cancellationToken));

    public override object? ExecuteScalar() => Read(connection.Try(() => Ready().ExecuteScalar()));

    public override async Task<object?> ExecuteScalarAsync(CancellationToken cancellationToken) =>
        Read(await connection.TryAsync(() => Ready().ExecuteScalarAsync(cancellationToken)));

    public override async ValueTask DisposeAsync()
    {
        await inner.DisposeAsync();
        await base.DisposeAsync();
    }

    protected override DbDataReader ExecuteDbDataReader(CommandBehavior behavior) =>
        new PostgresRows(connection.Try(() => Ready().ExecuteReader(behavior)));

    protected override async Task<DbDataReader> ExecuteDbDataReaderAsync(
        CommandBehavior behavior, CancellationToken cancellationToken) =>
        new PostgresRows(await connection.TryAsync(() => Ready().ExecuteReaderAsync(behavior, cancellationToken)));

    protected override DbParameter CreateDbParameter() => new NpgsqlParameter();

    protected override void Dispose(bool disposing)
    {
        if (disposing) inner.Dispose();
        base.Dispose(disposing);
    }

    private static object? Read(object? value) => value is string text ? PostgresText.FromColumn(text) : value;

    private NpgsqlCommand Ready()
    {
        foreach (NpgsqlParameter parameter in inner.Parameters)
            if (parameter.Value is string text)
            {
                // The length that was noted for the text as it was would cut it.
                if (PostgresText.ToColumn(text) is var written && !ReferenceEquals(written, text))
                    (parameter.Value, parameter.Size) = (written, 0);
            }
        return inner;
    }
}
