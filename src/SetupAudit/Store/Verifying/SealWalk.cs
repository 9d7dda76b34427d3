using System.Data.Common;
using SetupAudit.Records;
using SetupAudit.Store.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Compares the rows of every lasting table with the digests that entries hold of them. The ranges of a table follow
/// one another from its first row on, so that no row can lie between two of them.
/// </summary>
internal sealed class SealWalk(DbConnection connection, Dialect dialect, FaultList faults) : IDisposable
{
    // Sorts below every key; a whole number would leave out the row that has it as its key.
    private const double BelowAll = -1e300;
    private const long AboveAll = long.MaxValue;

    private readonly Dictionary<string, DbCommand> _commands = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> _sealed = new(StringComparer.Ordinal);
    private readonly List<(long Entry, SealedRows Seal)> _group = [];
    private readonly RowDigest _digest = new();
    private List<string>? _tables;
    private readonly HashSet<string> _gaps = new(StringComparer.Ordinal);

    /// <summary>How many rows were compared and are as they were sealed.</summary>
    public long Rows { get; private set; }

    /// <summary>
    /// An entry before cannot be trusted: what it sealed is unknown, so that a range which does not follow is no fault
    /// of its own.
    /// </summary>
    public void LoseTrack() => _gaps.UnionWith(SealedTables.All.Select(table => table.Name));

    /// <summary>Takes an entry that seals rows.</summary>
    public void Take(long entry, string said)
    {
        if (SealedRows.Read(said) is not { } seal)
        {
            faults.Add(FaultCode.EntryUnreadable, entry, $"entry {entry} seals rows in a way that is not known here");
            return;
        }
        if (_group.Count > 0 && _group[0].Seal is var first
            && (first.Table != seal.Table || first.After != seal.After || first.UpTo != seal.UpTo))
            EndGroup();
        _group.Add((entry, seal));
    }

    /// <summary>Ends with the rows that no entry seals.</summary>
    public void End()
    {
        EndGroup();
        foreach (var table in SealedTables.All.Where(table => !_gaps.Contains(table.Name) && IsThere(table)))
        {
            if (Any(table, BelowAll, 0))
                faults.Add(FaultCode.RowsUnsealed,
                    $"the table {table.Name} has rows with keys below 1, which nothing seals");
            var upTo = _sealed.GetValueOrDefault(table.Name);
            if (Any(table, upTo, AboveAll))
                faults.Add(FaultCode.RowsUnsealed, $"the table {table.Name} has rows after {upTo} that no entry seals");
        }
        foreach (var name in Unknown())
            faults.Add(FaultCode.TableUnknown,
                $"the table {name} is in the database, and this program does not know it: nothing seals its rows");
    }

    public void Dispose()
    {
        foreach (var command in _commands.Values) command.Dispose();
        _digest.Dispose();
    }

    private void EndGroup()
    {
        if (_group.Count == 0) return;
        var (entry, seal) = _group[0];
        var table = SealedTables.All.FirstOrDefault(one => one.Name == seal.Table);
        if (table is null || !IsThere(table))
            faults.Add(FaultCode.TableUnknown, entry,
                $"entry {entry} seals rows of the table {seal.Table}, which is not there");
        else
        {
            var before = _sealed.GetValueOrDefault(table.Name);
            if (!_gaps.Remove(table.Name) && seal.After != before)
                faults.Add(FaultCode.RowsUnsealed, entry,
                    $"entry {entry} seals the table {table.Name} from row {seal.After + 1} on, and before it rows "
                    + $"up to {before} were sealed");
            using (var rows = Open(table, seal.After, seal.UpTo)) Compare(table, rows);
            _sealed[table.Name] = seal.UpTo;
        }
        _group.Clear();
    }

    private void Compare(SealedTable table, DbDataReader rows)
    {
        if (table.BySetup) CompareBySetup(rows);
        else
            foreach (var (entry, seal) in _group)
            {
                // The last of a group takes what is left, so that an added row shows.
                var most = entry == _group[^1].Entry ? long.MaxValue : seal.Rows;
                while (_digest.Rows < most && rows.Read()) _digest.Add(rows, 0);
                Judge(entry, seal, _digest);
            }
    }

    private void CompareBySetup(DbDataReader rows)
    {
        var bySetup = new Dictionary<string, RowDigest>(StringComparer.Ordinal);
        while (rows.Read())
        {
            var setup = rows.IsDBNull(0) ? "" : rows.GetString(0);
            if (!bySetup.TryGetValue(setup, out var digest)) bySetup[setup] = digest = new RowDigest();
            digest.Add(rows, 1);
        }
        foreach (var (entry, seal) in _group)
            if (bySetup.Remove(seal.Setup ?? "", out var digest))
                using (digest) Judge(entry, seal, digest);
            else Judge(entry, seal, _digest);
        foreach (var (setup, digest) in bySetup)
        {
            var (entry, seal) = _group[0];
            faults.Add(FaultCode.RowsAltered, entry,
                $"the table {seal.Table} has {digest.Rows} rows between {seal.After + 1} and {seal.UpTo} of "
                + $"{(setup.Length == 0 ? "no setup" : setup)} that entry {entry} and those beside it did not seal");
            digest.Dispose();
        }
    }

    private void Judge(long entry, SealedRows seal, RowDigest digest)
    {
        var count = digest.Rows;
        if (digest.End() == seal.Sha256 && count == seal.Rows)
        {
            Rows += count;
            return;
        }
        var which = seal.Setup is null ? "" : $" of {seal.Setup}";
        var why = count < seal.Rows ? $"{seal.Rows - count} of {seal.Rows} are missing"
            : count > seal.Rows ? $"{count - seal.Rows} were added to {seal.Rows}"
            : "something in them was altered";
        faults.Add(FaultCode.RowsAltered, entry,
            $"the rows {seal.After + 1} to {seal.UpTo} of the table {seal.Table}{which} are not those that entry "
            + $"{entry} sealed: {why}");
    }

    private bool Any(SealedTable table, object after, object upTo)
    {
        using var rows = Open(table, after, upTo);
        return rows.Read();
    }

    private DbDataReader Open(SealedTable table, object after, object upTo)
    {
        if (!_commands.TryGetValue(table.Name, out var command))
        {
            command = connection.CreateCommand();
            command.CommandText = table.RowsSql;
            command.With("@After", 0L).With("@UpTo", 0L);
            _commands[table.Name] = command;
        }
        command.Parameters[0].Value = after;
        command.Parameters[1].Value = upTo;
        return command.ExecuteReader();
    }

    private bool IsThere(SealedTable table) => Tables().Contains(table.Name, StringComparer.Ordinal);

    private IEnumerable<string> Unknown() => Tables().Where(name =>
        name is not ("entry" or "checkpoint") && !name.StartsWith("scratch_", StringComparison.Ordinal)
        && !SealedTables.All.Any(table => table.Name == name));

    private List<string> Tables()
    {
        if (_tables is not null) return _tables;
        using var rows = connection.Read(dialect.TablesSql);
        _tables = [];
        while (rows.Read()) _tables.Add(rows.GetString(0));
        return _tables;
    }
}
