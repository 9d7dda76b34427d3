using System.Data.Common;
using Dapper;
using SetupAudit.Records;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>
/// Finds the rows that a transaction wrote into the lasting tables, and makes of them the words that seal them. They
/// are read back from the database: what is hashed is what is kept.
/// </summary>
internal sealed class RowSeals : IDisposable
{
    private const int KeysAWord = 500;

    private readonly RowDigest _digest = new();
    private readonly Dictionary<string, RowDigest> _bySetup = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> _sealed;
    private readonly Dictionary<string, long> _now = new(StringComparer.Ordinal);

    private RowSeals(Dictionary<string, long> marks) => _sealed = marks;

    public static async Task<RowSeals> OpenAsync(DbConnection connection, CancellationToken token) =>
        new(await SealedTableMarks.AllAsync(connection, token));

    /// <summary>The tables that hold rows which no entry seals, each with the key of the first such row.</summary>
    public async Task<IReadOnlyList<(string Table, long First)>> UnsealedAsync(
        DbConnection connection, CancellationToken token)
    {
        var found = new List<(string, long)>();
        var all = await NewestAsync(connection, null, token);
        foreach (var table in SealedTables.All)
            if (all[table.Name] > Mark(table)) found.Add((table.Name, Mark(table) + 1));
        return found;
    }

    /// <summary>Seals what the transaction wrote; nothing where it wrote into none of these tables.</summary>
    public async Task<IReadOnlyList<RecordWord>> SealAsync(DbTransaction transaction, CancellationToken token)
    {
        var words = new List<RecordWord>();
        var all = await NewestAsync(transaction.Database(), transaction, token);
        foreach (var table in SealedTables.All)
        {
            var newest = all[table.Name];
            if (newest <= Mark(table)) continue;
            // Not "await using": Dapper's reader then leaves its command with the connection, which looks through all
            // that it holds each time a command ends, so that every transaction costs more than the one before.
            using var rows = await OpenAsync(transaction, table, Mark(table), newest, token);
            words.AddRange((table switch
            {
                { BySetup: true } => await BySetupAsync(table, rows, newest, token),
                { ByKey: true } => await ByKeyAsync(table, rows, newest, token),
                _ => await WholeAsync(table, rows, newest, token),
            }).Select(sealedRows => sealedRows.ToWord()));
            _now[table.Name] = newest;
        }
        foreach (var (table, upTo) in _now) await SealedTableMarks.PutAsync(transaction, table, upTo, token);
        return words;
    }

    /// <summary>The transaction was committed.</summary>
    public void Committed()
    {
        foreach (var (table, upTo) in _now) _sealed[table] = upTo;
        _now.Clear();
    }

    /// <summary>The transaction was not committed.</summary>
    public void Forget() => _now.Clear();

    public void Dispose()
    {
        _digest.Dispose();
        foreach (var digest in _bySetup.Values) digest.Dispose();
    }

    private long Mark(SealedTable table) => _sealed.GetValueOrDefault(table.Name);

    private async Task<IReadOnlyList<SealedRows>> WholeAsync(
        SealedTable table, DbDataReader rows, long newest, CancellationToken token)
    {
        while (await rows.ReadAsync(token)) _digest.Add(rows, 0);
        var count = _digest.Rows;
        return [new SealedRows(table.Name, Mark(table), newest) { Rows = count, Sha256 = _digest.End() }];
    }

    private async Task<IReadOnlyList<SealedRows>> ByKeyAsync(
        SealedTable table, DbDataReader rows, long newest, CancellationToken token)
    {
        var (words, keys) = (new List<SealedRows>(), new List<string>());
        while (await rows.ReadAsync(token))
        {
            keys.Add(rows.GetString(0));
            _digest.Add(rows, 0);
            if (keys.Count == KeysAWord) Close();
        }
        if (keys.Count > 0) Close();
        return words;

        void Close()
        {
            words.Add(new SealedRows(table.Name, Mark(table), newest)
            {
                Keys = [.. keys],
                Rows = keys.Count,
                Sha256 = _digest.End(),
            });
            keys.Clear();
        }
    }

    private async Task<IReadOnlyList<SealedRows>> BySetupAsync(
        SealedTable table, DbDataReader rows, long newest, CancellationToken token)
    {
        while (await rows.ReadAsync(token))
        {
            var setup = rows.IsDBNull(0) ? "" : rows.GetString(0);
            if (!_bySetup.TryGetValue(setup, out var digest)) _bySetup[setup] = digest = new RowDigest();
            digest.Add(rows, 1);
        }
        var words = _bySetup.OrderBy(pair => pair.Key, StringComparer.Ordinal)
            .Select(pair => new SealedRows(table.Name, Mark(table), newest)
            {
                Setup = pair.Key.Length == 0 ? null : pair.Key,
                Rows = pair.Value.Rows,
                Sha256 = pair.Value.End(),
            }).ToList();
        foreach (var digest in _bySetup.Values) digest.Dispose();
        _bySetup.Clear();
        return words;
    }

    private static async Task<Dictionary<string, long>> NewestAsync(
        DbConnection connection, DbTransaction? transaction, CancellationToken token) =>
        (await connection.QueryAsync<Newest>(new CommandDefinition(
            SealedTables.NewestOfAllSql, null, transaction, cancellationToken: token)))
        .ToDictionary(row => row.Name, row => row.Key ?? 0, StringComparer.Ordinal);

    private static Task<DbDataReader> OpenAsync(
        DbTransaction transaction, SealedTable table, long after, long upTo, CancellationToken token) =>
        transaction.Database().ExecuteReaderAsync(new CommandDefinition(
            table.RowsSql, new { After = after, UpTo = upTo }, transaction, cancellationToken: token));

    private sealed class Newest
    {
        public string Name { get; init; } = "";

        public long? Key { get; init; }
    }
}
