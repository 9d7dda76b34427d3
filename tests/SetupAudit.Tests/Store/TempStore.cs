using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.Evidence;
using SetupAudit.Support;

namespace SetupAudit.Store;

/// <summary>A store in a folder of its own, and small ways to fill it.</summary>
internal sealed class TempStore : IDisposable
{
    public static readonly DateTimeOffset Monday = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private readonly TempShare _share = new();

    public string Folder => _share["store"];

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public Task<AuditStore> OpenAsync() => AuditStore.OpenAsync(Folder, new RecordOptions(), new FixedTime(), Token);

    public Task<StoreReader> OpenReaderAsync() => StoreReader.OpenAsync(Folder, Token);

    /// <summary>A copy of all files as they are now, which is what a killed process leaves behind.</summary>
    public TempStore Image()
    {
        var image = new TempStore();
        foreach (var path in Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories))
        {
            if (Path.GetFileName(path) == "store.lock") continue;
            var copy = Path.Combine(image.Folder, Path.GetRelativePath(Folder, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy);
        }
        return image;
    }

    public string Segment(int number) =>
        Path.Combine(Folder, "evidence", string.Create(CultureInfo.InvariantCulture, $"segment-{number:000000}.seg"));

    /// <summary>Runs a statement past the store, as someone with the file in hand could.</summary>
    public void Run(string sql)
    {
        using var connection = new SqliteConnection(
            $"Data Source={Path.Combine(Folder, "audit.db")};Mode=ReadWrite;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    public object? Ask(string sql)
    {
        using var connection = new SqliteConnection(
            $"Data Source={Path.Combine(Folder, "audit.db")};Mode=ReadWrite;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    /// <summary>The first column of every row.</summary>
    public IReadOnlyList<object> Rows(string sql)
    {
        using var connection = new SqliteConnection(
            $"Data Source={Path.Combine(Folder, "audit.db")};Mode=ReadWrite;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = new List<object>();
        while (reader.Read()) rows.Add(reader.GetValue(0));
        return rows;
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _share.Dispose();
    }

    public static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    public static string Hash(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>A dump of machine mill-3, so many seconds after Monday 07:00.</summary>
    public static TakenArrival Dump(string text, double seconds = 0, string file = "offsets/a.nc")
    {
        var bytes = Bytes(text);
        var arrival = Arrival(bytes, seconds, file);
        return new TakenArrival
        {
            Arrival = arrival,
            Bytes = bytes,
        };
    }

    public static TakeInBatch Batch(params TakenArrival[] arrivals) => new()
    {
        Arrivals = arrivals,
        Positions = [.. arrivals.Select(taken => new SourcePosition(
            taken.Arrival.Machine, "offsets", taken.Arrival.File, taken.Arrival.Sha256))],
    };

    public static Arrival Arrival(ReadOnlySpan<byte> bytes, double seconds = 0, string file = "offsets/a.nc") => new()
    {
        Machine = "mill-3",
        Source = 0,
        File = file,
        Sha256 = Hash(bytes),
        SizeBytes = bytes.Length,
        ModifiedUtc = Monday.AddSeconds(seconds),
        MomentUtc = Monday.AddSeconds(seconds),
        ReceivedUtc = Monday.AddSeconds(seconds + 3),
    };

    public static StoredSighting Sighting(Arrival arrival, int line = 0, string? body = null) => new()
    {
        Machine = arrival.Machine,
        Position = new SightingPosition(arrival.MomentUtc, arrival.Source, arrival.File, arrival.Sha256, line),
        EarliestUtc = arrival.MomentUtc.AddSeconds(-1),
        Arrival = arrival.Id,
        ShareUtc = arrival.ModifiedUtc,
        Body = body,
    };

    /// <summary>What reading all that is unread of a machine puts down, when each is a dump.</summary>
    public static async Task<ReadBatch> ReadAllAsync(AuditStore store, string machine = "mill-3")
    {
        var unread = await store.Reader.UnreadAsync(machine, 1000, Token);
        return new ReadBatch
        {
            Machine = machine,
            Arrivals = unread,
            Sightings = [.. unread.Select(stored => Sighting(stored.Arrival))],
        };
    }

    public static async Task<List<T>> AllAsync<T>(IAsyncEnumerable<T> items)
    {
        var all = new List<T>();
        await foreach (var item in items.WithCancellation(Token)) all.Add(item);
        return all;
    }

    private sealed class FixedTime : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => Monday.AddHours(1);
    }
}
