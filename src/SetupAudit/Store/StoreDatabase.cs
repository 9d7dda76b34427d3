using System.Data.Common;
using System.Runtime.CompilerServices;
using SetupAudit.Shop;
using SetupAudit.Store.Postgres;

namespace SetupAudit.Store;

/// <summary>
/// Where the rows of a store are, and how they are reached. Evidence, key, checkpoints and lock lie in its folder,
/// whatever the rows are in.
/// </summary>
internal abstract class StoreDatabase(string folder)
{
    public string Folder { get; } = folder;

    /// <summary>Where the rows are, for a sentence.</summary>
    public abstract string Place { get; }

    /// <summary>The database itself, for a sentence.</summary>
    public abstract string Name { get; }

    public abstract Dialect Dialect { get; }

    /// <summary>The files that build its tables.</summary>
    public abstract MigrationSet Migrations { get; }

    /// <summary>False where there is certainly no database yet, which is known without opening one.</summary>
    public abstract bool MayBeThere { get; }

    public static StoreDatabase Of(StoreConfig place) =>
        place.Postgres is { } text ? InPostgres(place.Folder, text) : new SqliteDatabase(place.Folder);

    // Apart, so that a process whose store is in SQLite never loads what speaks to a server.
    [MethodImpl(MethodImplOptions.NoInlining)]
#pragma warning disable CA1859 // The type itself would be loaded with whatever calls this.
    private static StoreDatabase InPostgres(string folder, string text) => new PostgresDatabase(folder, text);
#pragma warning restore CA1859

    /// <summary>The only connection that writes. It is not pooled: closing it ends it.</summary>
    public abstract Task<DbConnection> OpenWriterAsync(CancellationToken token);

    /// <summary>A connection that only reads, beside a writer or without one.</summary>
    public abstract Task<DbConnection> OpenReaderAsync(CancellationToken token);

    /// <summary>Brings the tables up to this program.</summary>
    public virtual Task PrepareAsync(DbConnection writer, DateTimeOffset nowUtc, CancellationToken token) =>
        Migrations.ApplyAsync(writer, Place, nowUtc, token);

    /// <summary>Throws where the folder is not the one that belongs to the rows.</summary>
    public virtual Task RequireFolderAsync(DbConnection writer, CancellationToken token) => Task.CompletedTask;

    /// <summary>Closes what pooled readers hold open.</summary>
    public abstract void ForgetReaders();

    /// <summary>One moment of the rows, at the latest its first read's: what is written later is not in it.</summary>
    public abstract Task<DbTransaction> SnapshotAsync(DbConnection reader, CancellationToken token);

    /// <summary>
    /// A statement in a snapshot whose rows are read while others are asked for. Both are the caller's to dispose of,
    /// the command by way of the rows.
    /// </summary>
    public abstract DbDataReader Walk(DbConnection snapshot, string sql);

    /// <summary>What the database itself finds damaged in it; null where nothing.</summary>
    public abstract string? Damage(DbConnection connection);

    /// <summary>What of the database is worth knowing for whoever verifies it, and no fault.</summary>
    public virtual IEnumerable<string> Remarks(DbConnection connection) => [];

    /// <summary>What a write that failed means: the store is closed and opened again where that may help.</summary>
    public virtual StoreException Failed(Exception fault) =>
        new(StoreFaultKind.Temporary, $"Writing to the store failed: {fault.Message}", fault);

    /// <summary>What it is built of where these migrations built it: kind and name, and the statement.</summary>
    public abstract IReadOnlyDictionary<string, string> ExpectedParts(IReadOnlySet<string> migrations);
}
