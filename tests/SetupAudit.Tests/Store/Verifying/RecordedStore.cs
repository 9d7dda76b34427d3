using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// A store with a record of some length, a copy of its checkpoints in another folder, and the hands of someone who has
/// full write access to the files.
/// </summary>
internal sealed class RecordedStore : IDisposable
{
    public const string Setup = "mill-3@20260302-070000";

    private readonly TempShare _share = new();

    public RecordedStore() => Directory.CreateDirectory(OffBox);

    public string Folder => _share["store"];

    public string OffBox => _share["off-box"];

    public string Database => Path.Combine(Folder, "audit.db");

    public string Anchors => Path.Combine(Folder, "checkpoints.txt");

    public string KeyFile => Path.Combine(Folder, "record.key");

    public TimeProvider Time { get; set; } = new HandClock("2026-03-02T08:00:00Z");

    public string OffBoxFile => Assert.Single(Directory.GetFiles(OffBox, "*.txt"));

    public static async Task<RecordedStore> MadeAsync()
    {
        var made = new RecordedStore();
        await made.GoOnAsync();
        return made;
    }

    public Task<AuditStore> OpenAsync(bool offBox = true) => AuditStore.OpenAsync(Folder, new RecordOptions
    {
        Shop = "Harrow Lane Works",
        OffBoxFolder = offBox ? OffBox : null,
    }, Time, Token);

    /// <summary>Writes some transactions of every kind, and closes the store.</summary>
    public async Task GoOnAsync(int from = 0, bool offBox = true)
    {
        await using var store = await OpenAsync(offBox);
        await FillAsync(store, from);
    }

    /// <summary>Some transactions of every kind.</summary>
    public static async Task FillAsync(AuditStore store, int from)
    {
        await store.RecordStartAsync(new StartRecord(Monday, "once", "0.1", Hash("{}"u8)) { Configuration = "{}"u8.ToArray() }, Token);
        for (var number = from; number < from + 3; number++)
        {
            await store.TakeInAsync(Batch(Dump($"dump {number}", number * 60), Dump($"second {number}", number * 60 + 1, "offsets/b.nc")), Token);
            await store.PutReadAsync(await ReadAllAsync(store), Token);
            await store.ReplaceDerivedAsync(Derived(number), Token);
        }
        await store.RecordStopAsync("once", Token);
    }

    public static DerivedBatch Derived(int number) => new()
    {
        Machine = "mill-3",
        ScopeFromUtc = Monday,
        WithdrawnBecause = "made up",
        HorizonUtc = Monday.AddHours(number + 1),
        Rows =
        [
            Row(DerivedKind.Setup, Setup, $$"""{"number":{{number}}}""", null),
            Row(DerivedKind.Change, $"{Setup}/G54.X", $$"""{"to":{{number}}.250}""", Setup),
            Row(DerivedKind.Finding, $"{Setup}/axis-not-set/G54.Z", $$"""{"message":"Z was not set.","n":{{number}}}""", Setup),
        ],
    };

    public Task<RecordCheck> CheckAsync(bool offBox = true, VerifierKey? pinned = null, bool evidence = true) =>
        StoreVerifier.RunAsync(new VerifyOptions
        {
            Folder = Folder,
            OffBoxFolder = offBox ? OffBox : null,
            Pinned = pinned,
            WithEvidence = evidence,
        }, Token);

    /// <summary>Runs statements as someone could who takes the guards away and puts them back.</summary>
    public void Attack(params string[] statements)
    {
        using var connection = Connect();
        var guards = new List<(string Name, string Sql)>();
        using (var command = connection.CreateCommand())
        {
            command.CommandText = "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'";
            using var rows = command.ExecuteReader();
            while (rows.Read()) guards.Add((rows.GetString(0), rows.GetString(1)));
        }
        Run(connection, [.. guards.Select(guard => $"DROP TRIGGER {guard.Name}")]);
        Run(connection, ["PRAGMA foreign_keys=OFF", "PRAGMA ignore_check_constraints=ON"]);
        Run(connection, statements);
        Run(connection, [.. guards.Select(guard => guard.Sql)]);
    }

    /// <summary>Writes an entry anew: its body, and its leaf where asked for.</summary>
    public void Rewrite(long number, byte[] body, bool withLeaf = true) => Attack(withLeaf
        ? $"UPDATE entry SET body = x'{Convert.ToHexString(body)}', leaf = x'{MerkleTree.Leaf(body)}' WHERE number = {number}"
        : $"UPDATE entry SET body = x'{Convert.ToHexString(body)}' WHERE number = {number}");

    public byte[] Body(long number) => (byte[])Ask($"SELECT body FROM entry WHERE number = {number}");

    public long Entries => (long)Ask("SELECT COUNT(*) FROM entry");

    /// <summary>The sizes of the checkpoints, in their order.</summary>
    public IReadOnlyList<long> Sizes => [.. Rows("SELECT size FROM checkpoint ORDER BY size").Cast<long>()];

    /// <summary>An entry of an arrival, somewhere in the middle.</summary>
    public long Middle => (long)Ask("SELECT number FROM entry WHERE instr(body, CAST('\"kind\":\"arrival\"' AS BLOB)) > 0 ORDER BY number LIMIT 1 OFFSET 2");

    public string Origin => RecordBody.Read(Body(0))!.Origin;

    public VerifierKey Key
    {
        get
        {
            using var key = RecordKey.Load(KeyFile, Origin);
            return key.Verifier;
        }
    }

    /// <summary>Makes the tree again over the entries as they are now, and signs every checkpoint again or not.</summary>
    public void MakeTreeAgain(string? signWith)
    {
        var leaves = Rows("SELECT leaf FROM entry ORDER BY number").Select(leaf => TreeHash.From((byte[])leaf)).ToList();
        var statements = new List<string>();
        foreach (var size in Sizes)
        {
            var root = MerkleTree.Root(leaves.Take((int)size));
            statements.Add($"UPDATE checkpoint SET root = x'{root}' WHERE size = {size}");
            if (signWith is null) continue;
            using var key = RecordKey.Load(signWith, Origin);
            var note = NoteSigning.Sign(new Checkpoint(Origin, size, root).ToString(), key);
            statements.Add($"UPDATE checkpoint SET signed = '{note.ToString()[(note.Text.Length + 1)..]}' WHERE size = {size}");
        }
        Attack([.. statements]);
    }

    /// <summary>Writes the store's own anchor file again, after the checkpoints in the database.</summary>
    public void MakeAnchorsAgain(string? path = null)
    {
        var text = new StringBuilder();
        foreach (var size in Sizes)
            text.Append(new StoredCheckpoint
            {
                Size = size,
                Root = (byte[])Ask($"SELECT root FROM checkpoint WHERE size = {size}"),
                Signed = (string)Ask($"SELECT signed FROM checkpoint WHERE size = {size}"),
            }.ToNote(Origin)).Append('\n');
        File.WriteAllText(path ?? Anchors, text.ToString());
    }

    /// <summary>Takes everything after a checkpoint away, the rows that were written since as well.</summary>
    public void CutTo(long size)
    {
        var seals = Rows("SELECT body FROM entry ORDER BY number").Select(body => RecordBody.Read((byte[])body)!)
            .Where(body => body.Kind == RecordKind.Rows && body.Number < size)
            .Select(body => SealedRows.Read(body.Said)!).ToList();
        var statements = new List<string>();
        foreach (var table in SealedTables.All)
        {
            var upTo = seals.Where(seal => seal.Table == table.Name).Select(seal => seal.UpTo).DefaultIfEmpty(0).Max();
            var key = table.Name switch { "blob" => "rowid", "migration" => "number", _ => "seq" };
            statements.Add($"DELETE FROM {table.Name} WHERE {key} > {upTo}");
            statements.Add($"UPDATE scratch_sealed SET up_to = {upTo} WHERE name = '{table.Name}'");
        }
        Attack([.. statements, $"DELETE FROM entry WHERE number >= {size}", $"DELETE FROM checkpoint WHERE size > {size}",
            "DELETE FROM scratch_frontier"]);
    }

    public object Ask(string sql) => Rows(sql)[0];

    public IReadOnlyList<object> Rows(string sql)
    {
        using var connection = Connect();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = new List<object>();
        while (reader.Read()) rows.Add(reader.GetValue(0));
        return rows;
    }

    /// <summary>Every row of every lasting table, and every statement the database is built of.</summary>
    public string Everything()
    {
        var tables = Rows("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'scratch%' ORDER BY name");
        var text = new StringBuilder().AppendJoin('\n', Rows("SELECT type || name || sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY 1"));
        using var connection = Connect();
        foreach (var table in tables)
        {
            using var command = connection.CreateCommand();
            command.CommandText = $"SELECT * FROM {table} ORDER BY rowid";
            using var rows = command.ExecuteReader();
            while (rows.Read())
                for (var column = 0; column < rows.FieldCount; column++)
                    text.Append(rows.GetValue(column) is byte[] bytes ? Convert.ToHexString(bytes) : rows.GetValue(column)).Append('|');
        }
        return text.ToString();
    }

    public static void Copy(string from, string to)
    {
        SqliteConnection.ClearAllPools();
        Directory.CreateDirectory(to);
        foreach (var path in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var copy = Path.Combine(to, Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy, overwrite: true);
        }
    }

    public string this[string name] => _share[name];

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _share.Dispose();
    }

    private static DerivedRow Row(DerivedKind kind, string id, string body, string? setup) => new()
    {
        Kind = kind,
        Id = id,
        Body = body,
        Setup = setup,
        AtUtc = Monday,
        ScopeUtc = Monday,
    };

    private SqliteConnection Connect()
    {
        var connection = new SqliteConnection($"Data Source={Database};Mode=ReadWrite;Pooling=False");
        connection.Open();
        return connection;
    }

    private static void Run(SqliteConnection connection, IReadOnlyList<string> statements)
    {
        foreach (var statement in statements)
        {
            using var command = connection.CreateCommand();
            command.CommandText = statement;
            command.ExecuteNonQuery();
        }
    }
}
