using System.Collections.Concurrent;
using System.Reflection;
using System.Text.RegularExpressions;
using Npgsql;
using NpgsqlTypes;

namespace SetupAudit.Store.Postgres;

/// <summary>One statement for many rows, sent together: the server answers once for some hundreds of them.</summary>
internal static partial class PostgresBatch
{
    private const int RowsAtOnce = 500;

    private static readonly ConcurrentDictionary<(Type, string), IReadOnlyList<PropertyInfo>> Known = new();

    public static async Task<int> RunAsync(
        NpgsqlConnection connection, string sql, IReadOnlyCollection<object> rows, CancellationToken token)
    {
        var written = 0;
        foreach (var some in rows.Chunk(RowsAtOnce))
        {
            await using var batch = new NpgsqlBatch(connection);
            foreach (var row in some) batch.BatchCommands.Add(Command(sql, row));
            written += await batch.ExecuteNonQueryAsync(token);
        }
        return written;
    }

    private static NpgsqlBatchCommand Command(string sql, object row)
    {
        var command = new NpgsqlBatchCommand(sql);
        foreach (var property in Known.GetOrAdd((row.GetType(), sql), Properties))
        {
            var value = property.GetValue(row);
            command.Parameters.Add(new NpgsqlParameter(property.Name, TypeOf(property))
            {
                Value = value is string text ? PostgresText.ToColumn(text) : value ?? DBNull.Value,
            });
        }
        return command;
    }

    // Those members of a row that the statement names.
    private static IReadOnlyList<PropertyInfo> Properties((Type Row, string Sql) of)
    {
        var names = Name().Matches(of.Sql).Select(match => match.Groups[1].Value).ToHashSet(StringComparer.Ordinal);
        var properties = of.Row.GetProperties().Where(property => names.Contains(property.Name)).ToList();
        return properties.Count == names.Count ? properties
            : throw new InvalidOperationException($"{of.Row} lacks a member that is named in: {of.Sql}");
    }

    private static NpgsqlDbType TypeOf(PropertyInfo property) => property.PropertyType switch
    {
        var type when type == typeof(string) => NpgsqlDbType.Text,
        var type when type == typeof(byte[]) => NpgsqlDbType.Bytea,
        var type when type == typeof(long) || type == typeof(long?) => NpgsqlDbType.Bigint,
        var type when type == typeof(int) || type == typeof(int?) => NpgsqlDbType.Integer,
        var type => throw new InvalidOperationException($"{property.Name} is a {type}, which no column is"),
    };

    [GeneratedRegex("@([A-Za-z_0-9]+)", RegexOptions.NonBacktracking)]
    private static partial Regex Name();
}
