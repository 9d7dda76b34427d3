using System.Data;
using System.Data.Common;
using System.Globalization;
using Dapper;
using Npgsql;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Postgres;

/// <summary>The rows of a store in a PostgreSQL database; evidence, key and checkpoints stay in the folder.</summary>
internal sealed class PostgresDatabase : StoreDatabase
{
    // What this program asks of a server is there from this version on.
    private const int OldestVersion = 14;

    private readonly NpgsqlConnectionStringBuilder _text;
    private readonly string _writer;
    private readonly string _reader;

    public PostgresDatabase(string folder, string text)
        : base(folder)
    {
        _text = PostgresPlace.Read(text, out var fault)
            ?? throw new StoreException(StoreFaultKind.Final, $"Store.Postgres {fault}.");
        if (_text.Password is not null || _text.SslPassword is not null)
            throw new StoreException(StoreFaultKind.Final, "Store.Postgres holds a password; take it out and name a "
                + "file with Passfile=..., or set the variable PGPASSWORD.");
        _text.ApplicationName = PostgresLock.SessionName(_text.ApplicationName);
        _writer = With("", pooling: false);
        // A reader cannot write, whatever it is asked.
        _reader = With("-c default_transaction_read_only=on", _text.Pooling);
    }

    public override string Place => Name;

    public override string Name => $"the database '{_text.Database ?? _text.Username}' on {_text.Host}";

    public override Dialect Dialect => PostgresDialect.Own;

    public override MigrationSet Migrations => PostgresDialect.Migrations;

    // Only the server knows.
    public override bool MayBeThere => true;

    public override async Task<DbConnection> OpenWriterAsync(CancellationToken token)
    {
        var connection = await OpenAsync(_writer, token);
        try
        {
            await PostgresSession.RequireAsync(connection, Name, token);
            await PostgresLock.TakeAsync(connection, Name, token);
            return connection;
        }
        catch (Exception)
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    public override async Task<DbConnection> OpenReaderAsync(CancellationToken token) =>
        await OpenAsync(_reader, token);

    // A folder that lacks the newest checkpoint and the newest evidence as well is not one that a crash left behind.
    public override async Task RequireFolderAsync(DbConnection writer, CancellationToken token)
    {
        if (await CheckpointTable.LastAsync(writer, token) is not { } last) return;
        if (await BlobTable.LastAsync(writer, token) is not { } newest) return;
        var note = new AnchorFile(Path.Combine(Folder, AnchorFile.FileName)).Last();
        var anchored = note is not null && Checkpoint.TryRead(note.Text, out var read, out _) ? read.Size : 0;
        using var evidence = new EvidenceFolder(Folder);
        var segment = new FileInfo(evidence.SegmentPath(newest.Segment));
        if (anchored >= last.Size || (segment.Exists && segment.Length >= newest.End)) return;
        throw new StoreException(StoreFaultKind.Final, string.Create(CultureInfo.InvariantCulture,
            $"{Name} holds a record of {last.Size} entries, and the folder {Folder} knows of {anchored} and lacks the ")
            + "newest evidence: it is another store's folder, a new one or an older copy. Nothing was written. Set "
            + "Store.Folder to the folder that belongs to these rows, or Store.Postgres to the database that belongs "
            + "to this folder.");
    }

    // Idle sessions end by themselves.
    public override void ForgetReaders()
    {
    }

    public override async Task PrepareAsync(DbConnection writer, DateTimeOffset nowUtc, CancellationToken token)
    {
        try
        {
            if (await Migrations.IsOwnAsync(writer, Place, token)) return;
            if (!await PostgresSession.MayCreateAsync(writer, token)) throw NotOwner(null);
            await base.PrepareAsync(writer, nowUtc, token);
        }
        catch (PostgresException fault) when (fault.SqlState == PostgresErrorCodes.InsufficientPrivilege)
        {
            throw NotOwner(fault);
        }
    }

    public override async Task<DbTransaction> SnapshotAsync(DbConnection reader, CancellationToken token)
    {
        var snapshot = await reader.BeginTransactionAsync(IsolationLevel.RepeatableRead, token);
        // The server takes it with the first statement, whatever that asks.
        await reader.ExecuteAsync(new CommandDefinition("SELECT 1", transaction: snapshot, cancellationToken: token));
        return snapshot;
    }

    // A session reads the rows of one statement at a time: another one is given the same snapshot.
    public override DbDataReader Walk(DbConnection snapshot, string sql)
    {
        var session = new NpgsqlConnection(_reader);
        try
        {
            session.Open();
            PostgresSession.Join(session, snapshot);
            using var command = new NpgsqlCommand(sql, session);
            return new PostgresRows(command.ExecuteReader()) { Session = session };
        }
        catch (Exception)
        {
            session.Dispose();
            throw;
        }
    }

    // The server checks the sums of its pages where it was set up to, and fails what reads a bad one.
    public override string? Damage(DbConnection connection) => null;

    public override IReadOnlyDictionary<string, string> ExpectedParts(IReadOnlySet<string> migrations) =>
        PostgresDialect.Parts(Migrations.NameOfLast(migrations));

    public override IEnumerable<string> Remarks(DbConnection connection) => PostgresSession.Remarks(connection);

    public override StoreException Failed(Exception fault) => fault is PostgresException refused
        && refused.SqlState.StartsWith("42", StringComparison.Ordinal)
        ? new StoreException(StoreFaultKind.Final,
            $"Writing to {Name} was refused: {PostgresFaults.Sentence(fault)} deploy/postgres-roles.sql and what "
            + "'setupaudit tables' prints give a role what it needs.", fault)
        : new StoreException(StoreFaultKind.Temporary,
            $"Writing to the store failed: {PostgresFaults.Sentence(fault)}", fault);

    private StoreException NotOwner(Exception? fault) => new(StoreFaultKind.Final,
        $"The tables in {Name} are not those of this setupaudit, and the role '{_text.Username}' may not build them. "
        + "'setupaudit tables --config FILE' prints what the owner of the database must run first.", fault);

    private string With(string options, bool pooling) => new NpgsqlConnectionStringBuilder(_text.ConnectionString)
    {
        Options = $"{_text.Options} {options}".Trim(),
        Pooling = pooling,
    }.ConnectionString;

    private async Task<PostgresConnection> OpenAsync(string text, CancellationToken token)
    {
        var inner = new NpgsqlConnection(text);
        try
        {
            await inner.OpenAsync(token);
            if (inner.PostgreSqlVersion.Major < OldestVersion)
                throw new StoreException(StoreFaultKind.Final,
                    $"The server of {Name} is PostgreSQL {inner.ServerVersion}; the store needs {OldestVersion} or "
                    + "newer.");
            return new PostgresConnection(inner);
        }
        catch (Exception fault)
        {
            await inner.DisposeAsync();
            if (fault is DbException or TimeoutException or IOException)
                throw PostgresFaults.Opening(fault, Name, _text.Username);
            throw;
        }
    }
}
