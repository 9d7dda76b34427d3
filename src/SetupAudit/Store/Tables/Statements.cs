using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Runs a statement within a transaction, once or for each row given.</summary>
internal static class Statements
{
    public static Task<int> RunAsync(
        this DbTransaction transaction, string sql, object? rows, CancellationToken token) =>
        rows is IReadOnlyCollection<object> { Count: > 1 } many && transaction.Connection is IRunsMany connection
            ? connection.RunManyAsync(sql, many, token)
            : transaction.Database().ExecuteAsync(
                new CommandDefinition(sql, rows, transaction, cancellationToken: token));

    /// <summary>The connection of a transaction that is still going on.</summary>
    public static DbConnection Database(this DbTransaction transaction) =>
        transaction.Connection ?? throw new InvalidOperationException("the transaction is over");
}
