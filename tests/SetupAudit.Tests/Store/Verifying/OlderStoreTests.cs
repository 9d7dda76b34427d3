using System.IO.Compression;
using Microsoft.Data.Sqlite;
using SetupAudit.Store.Retention;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Act 23: what an earlier version wrote still verifies. fixtures/records/stores holds a small store of each form that
/// a version had, named for its newest migration; ACCEPT=1 adds one of today's form where it has none yet. The key that
/// signed them is not kept.
/// </summary>
public sealed class OlderStoreTests
{
    private const string Kept = "fixtures/records/stores";

    public static TheoryData<string> Stores =>
        [.. Directory.GetFiles(Repository.At(Kept), "*.zip").Select(Path.GetFileName).OfType<string>().Order(StringComparer.Ordinal)];

    [Theory, MemberData(nameof(Stores))]
    public async Task Act_23_a_store_of_an_earlier_form_verifies_and_one_altered_byte_of_it_does_not(string name)
    {
        using var store = new RecordedStore();
        ZipFile.ExtractToDirectory(Repository.At($"{Kept}/{name}"), store.Folder);
        var check = await store.CheckAsync(offBox: false);
        Assert.Empty(check.Faults);
        Assert.True(check.VerifiedTo > 30, $"{check.VerifiedTo} entries");
        Assert.Equal((check.Entries, 7L), (check.VerifiedTo, check.Evidence));

        store.Attack("UPDATE arrival SET file = 'offsets/c.nc' WHERE seq = 2");
        Assert.Equal(FaultCode.RowsAltered, Assert.Single((await store.CheckAsync(offBox: false)).Faults).Code);
    }

    // With the made-up key that signed it: only a store that is written shows that an upgrade goes on with its record.
    [Fact]
    public async Task A_store_of_an_earlier_form_is_brought_up_and_gone_on_with()
    {
        using var store = new RecordedStore();
        ZipFile.ExtractToDirectory(Repository.At("fixtures/records/upgrade/0006-reminders.zip"), store.Folder);
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(store.KeyFile, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        var (entries, key) = (store.Entries, store.Key);
        Assert.Equal("0006-reminders.sql", store.Rows("SELECT name FROM migration ORDER BY number DESC")[0]);

        // As a start that was killed before it wrote anything leaves it.
        await using (await store.OpenAsync(offBox: false)) Assert.Equal(entries, store.Entries);
        await using (var again = await store.OpenAsync(offBox: false)) await again.TakeInAsync(Batch(Dump("one")), Token);

        var check = await store.CheckAsync(offBox: false, pinned: key);
        Assert.Empty(check.Faults);
        Assert.True(check.VerifiedTo > entries);
    }

    [Fact]
    public async Task A_store_of_at_least_one_form_is_kept_here()
    {
        if (Environment.GetEnvironmentVariable("ACCEPT") == "1")
        {
            using var made = await RecordedStore.MadeAsync();
            await using (var store = await made.OpenAsync()) await store.PruneAsync(Drops.Of([Hash(Bytes("dump 0"))]), Token);
            var form = made.Rows("SELECT name FROM migration ORDER BY number DESC")[0];
            var zip = Repository.At($"{Kept}/{Path.GetFileNameWithoutExtension((string)form)}.zip");
            if (!File.Exists(zip)) Pack(made, zip);
        }
        Assert.NotEmpty(Stores);
    }

    private static void Pack(RecordedStore made, string zip)
    {
        SqliteConnection.ClearAllPools();
        File.Delete(made.KeyFile);
        File.Delete(Path.Combine(made.Folder, "store.lock"));
        foreach (var left in Directory.GetFiles(made.Folder, "audit.db-*")) File.Delete(left);
        Directory.CreateDirectory(Path.GetDirectoryName(zip)!);
        ZipFile.CreateFromDirectory(made.Folder, zip, CompressionLevel.SmallestSize, includeBaseDirectory: false);
    }
}
