using SetupAudit.Store.Retention;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Bytes that are missing are forgiven only where people said that they dropped them, and the record holds that.
/// </summary>
public sealed class PruneTamperTests
{
    [Fact]
    public async Task Act_24_a_segment_taken_away_by_hand_is_found_also_where_something_else_was_dropped()
    {
        using var store = await PrunedAsync();
        Assert.Empty((await store.CheckAsync()).Faults);
        foreach (var path in Directory.GetFiles(Path.Combine(store.Folder, "evidence"))) File.Delete(path);
        var check = await store.CheckAsync();
        Assert.Equal(7, check.FaultCount);
        Assert.All(check.Faults, fault => Assert.Equal(FaultCode.EvidenceAltered, fault.Code));
    }

    [Fact]
    public async Task Act_25_a_row_that_says_bytes_were_dropped_which_nobody_dropped_is_sealed_by_nothing()
    {
        using var store = await PrunedAsync();
        store.Attack("""
            INSERT INTO dropped (sha256, size_bytes, segment, position, pruning)
            SELECT b.sha256, b.size_bytes, p.segment, p.position, 1 FROM blob b JOIN placed p ON p.sha256 = b.sha256 LIMIT 1
            """);
        var fault = Assert.Single((await store.CheckAsync()).Faults);
        Assert.Equal((FaultCode.RowsUnsealed, "the table dropped has rows after 1 that no entry seals"), (fault.Code, fault.Text));

        // Nor does a start take it at its word and delete anything.
        store.Attack("""
            INSERT INTO dropped (sha256, size_bytes, segment, position, pruning)
            SELECT sha256, size_bytes, segment, position, 1 FROM blob WHERE segment > 1
            UNION ALL SELECT sha256, 0, segment, position, 1 FROM placed
            """);
        await Assert.ThrowsAsync<StoreException>(() => store.OpenAsync());
        Assert.True(File.Exists(Path.Combine(store.Folder, "evidence", "segment-000002.seg")));
    }

    [Theory]
    [InlineData("UPDATE pruning SET reason = 'asked by nobody'", "pruning")]
    [InlineData("UPDATE pruning SET signatures = '[]'", "pruning")]
    [InlineData("UPDATE pruned_line SET from_utc = '2026-03-09T00:00:00.0000000Z'", "pruned_line")]
    [InlineData("UPDATE dropped SET sha256 = (SELECT MAX(sha256) FROM placed)", "dropped")]
    [InlineData("UPDATE placed SET position = position + 1 WHERE seq = 1", "placed")]
    [InlineData("DELETE FROM placed WHERE seq = 1", "placed")]
    [InlineData("DELETE FROM dropped", "dropped")]
    public async Task Act_26_what_is_recorded_of_dropping_is_held_by_its_seal(string attack, string table)
    {
        using var store = await PrunedAsync();
        store.Attack(attack);
        Assert.Contains((await store.CheckAsync()).Faults, fault => fault.Code == FaultCode.RowsAltered
            && fault.Text.Contains($"of the table {table} ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Act_27_a_state_that_was_altered_is_altered_evidence()
    {
        using var store = await PrunedAsync();
        var state = (string)store.Ask("SELECT state FROM pruned_line");
        var (segment, position) = ((long)store.Ask($"SELECT segment FROM blob WHERE sha256 = '{state}'"),
            (long)store.Ask($"SELECT position FROM blob WHERE sha256 = '{state}'"));
        var path = Path.Combine(store.Folder, "evidence", $"segment-{segment:000000}.seg");
        var bytes = File.ReadAllBytes(path);
        bytes[position + 72] ^= 1;
        File.WriteAllBytes(path, bytes);
        Assert.Equal(FaultCode.EvidenceAltered, Assert.Single((await store.CheckAsync()).Faults).Code);
    }

    private static async Task<RecordedStore> PrunedAsync()
    {
        var made = await RecordedStore.MadeAsync();
        await using (var store = await made.OpenAsync()) await store.PruneAsync(Drops.Of([Hash(Bytes("dump 0"))]), Token);
        return made;
    }
}
