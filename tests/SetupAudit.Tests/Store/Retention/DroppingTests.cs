using SetupAudit.Store.Verifying;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Retention;

/// <summary>Evidence is dropped from segments, and what stays is moved; killed anywhere, nothing is missing unsaid.</summary>
public sealed class DroppingTests
{
    private static readonly string[] Gone = [Hash(Bytes("a")), Hash(Bytes("c"))];
    private static readonly string[] Stays = [Hash(Bytes("b")), Hash(Bytes("d"))];

    public static TheoryData<string> Steps =>
    [
        .. Enum.GetNames<StoreStep>().Where(name => name.StartsWith("Prune", StringComparison.Ordinal)),
        nameof(StoreStep.RowsWritten), nameof(StoreStep.Committed),
    ];

    [Fact]
    public async Task What_goes_is_gone_and_what_stays_is_read_and_used_as_before()
    {
        using var temp = new TempStore();
        await using (var store = await FilledAsync(temp)) await store.PruneAsync(Drops.Of(Gone), Token);

        Assert.False(File.Exists(temp.Segment(1)));
        Assert.True(File.Exists(temp.Segment(2)));
        await IsPrunedAsync(temp);
        await using var again = await temp.OpenAsync();
        Assert.Null(again.Damage);
        await again.TakeInAsync(Batch(Dump("e", 50, "e.nc"), Dump("a", 60, "again.nc"), Dump("b", 61, "again-b.nc")), Token);
        foreach (var text in new[] { "a", "b", "d", "e" })
            Assert.Equal(text, Text(await again.Reader.ReadEvidenceAsync(Hash(Bytes(text)), Token)));
        Assert.Null(await again.Reader.ReadEvidenceAsync(Hash(Bytes("c")), Token));
        Assert.Equal([Hash(Bytes("c"))], (await again.Reader.Prunings.DroppedAsync(Gone, Token)).Keys);
    }

    [Theory, MemberData(nameof(Steps))]
    public async Task A_process_killed_at_a_step_has_dropped_nothing_or_said_it_and_the_next_start_finishes(string stepName)
    {
        var step = Enum.Parse<StoreStep>(stepName);
        using var temp = new TempStore();
        TempStore? image = null;
        await using (var store = await FilledAsync(temp))
        {
            store.OnStep = at =>
            {
                if (at == step) image ??= temp.Image();
            };
            await store.PruneAsync(Drops.Of(Gone), Token);
        }
        using var killed = image ?? throw new InvalidOperationException("the step was never reached");
        var isSaid = step is not (StoreStep.PruneMoved or StoreStep.RowsWritten);
        Assert.Equal(isSaid ? 2L : 0L, killed.Ask("SELECT COUNT(*) FROM dropped"));

        await using (var store = await killed.OpenAsync())
        {
            Assert.Null(store.Damage);
            Assert.Equal(!isSaid, File.Exists(killed.Segment(1)));
            foreach (var sha256 in Stays) Assert.NotNull(await store.Reader.ReadEvidenceAsync(sha256, Token));
            if (!isSaid)
            {
                foreach (var sha256 in Gone) Assert.NotNull(await store.Reader.ReadEvidenceAsync(sha256, Token));
                await store.PruneAsync(Drops.Of(Gone), Token);
            }
        }
        await IsPrunedAsync(killed);
    }

    [Fact]
    public async Task Another_act_moves_what_was_moved_and_drops_what_came_again()
    {
        using var temp = new TempStore();
        await using (var store = await FilledAsync(temp))
        {
            await store.PruneAsync(Drops.Of(Gone), Token);
            await store.TakeInAsync(Batch(Dump("a", 60, "again.nc"), Dump("e", 61, "e.nc")), Token);
            await store.PruneAsync(Drops.Of([Hash(Bytes("a")), Hash(Bytes("b"))], 2), Token);
            Assert.Equal(2, (await store.Reader.Prunings.AllAsync(Token)).Count);
            Assert.Equal("pruning-2", (await store.Reader.Prunings.DroppedAsync(Gone, Token))[Hash(Bytes("a"))].Id);
            Assert.Equal("pruning-1", (await store.Reader.Prunings.DroppedAsync(Gone, Token))[Hash(Bytes("c"))].Id);
        }
        Assert.False(File.Exists(temp.Segment(2)));
        await using var again = await temp.OpenAsync();
        Assert.Equal("d", Text(await again.Reader.ReadEvidenceAsync(Hash(Bytes("d")), Token)));
        Assert.Equal("e", Text(await again.Reader.ReadEvidenceAsync(Hash(Bytes("e")), Token)));
        Assert.Null(await again.Reader.ReadEvidenceAsync(Hash(Bytes("b")), Token));
    }

    [Fact]
    public async Task Where_all_of_the_last_segments_goes_their_numbers_are_not_given_again()
    {
        using var temp = new TempStore();
        await using (var store = await FilledAsync(temp))
            await store.PruneAsync(Drops.Of([.. Gone, .. Stays]) with { Lines = [] }, Token);
        Assert.Empty(Directory.GetFiles(Path.Combine(temp.Folder, "evidence")));
        await using (var store = await temp.OpenAsync())
        {
            Assert.Null(store.Damage);
            await store.TakeInAsync(Batch(Dump("e", 50, "e.nc")), Token);
        }
        Assert.True(File.Exists(temp.Segment(2)));
    }

    [Fact]
    public async Task Bytes_left_over_by_a_write_that_failed_are_not_used_where_their_segment_goes()
    {
        using var temp = new TempStore();
        await using (var store = await FilledAsync(temp))
        {
            store.OnStep = step =>
            {
                if (step == StoreStep.RowsWritten) throw new InvalidOperationException("stopped");
            };
            await Assert.ThrowsAsync<InvalidOperationException>(() => store.TakeInAsync(Batch(Dump("f", 70, "f.nc")), Token));
            store.OnStep = null;
            await store.PruneAsync(Drops.Of(Gone), Token);
            await store.TakeInAsync(Batch(Dump("f", 70, "f.nc")), Token);
            Assert.Equal("f", Text(await store.Reader.ReadEvidenceAsync(Hash(Bytes("f")), Token)));
        }
    }

    [Fact]
    public async Task Damaged_bytes_that_would_stay_keep_anything_from_being_dropped()
    {
        using var temp = new TempStore();
        await using var store = await FilledAsync(temp);
        var bytes = await File.ReadAllBytesAsync(temp.Segment(1), Token);
        var at = (long)temp.Ask($"SELECT position FROM blob WHERE sha256 = '{Stays[0]}'")!;
        bytes[at + 70] ^= 1;
        await File.WriteAllBytesAsync(temp.Segment(1), bytes, Token);
        await Assert.ThrowsAsync<StoreException>(() => store.PruneAsync(Drops.Of(Gone), Token));
        Assert.Equal(0L, temp.Ask("SELECT COUNT(*) FROM dropped"));
        Assert.True(File.Exists(temp.Segment(1)));
    }

    private static async Task<AuditStore> FilledAsync(TempStore temp)
    {
        var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("a", 1, "a.nc"), Dump("b", 2, "b.nc"), Dump("c", 3, "c.nc"), Dump("d", 4, "d.nc")), Token);
        return store;
    }

    private static async Task IsPrunedAsync(TempStore temp)
    {
        var check = await StoreVerifier.RunAsync(new VerifyOptions { Folder = temp.Folder, WithEvidence = true }, Token);
        Assert.Empty(check.Faults);
        Assert.Equal(3, check.Evidence);
        Assert.Contains("2 files of evidence were dropped on 2026-03-02, from before 2026-03-02, by Ann Reed (the policy says so)",
            Assert.Single(check.Remarks), StringComparison.Ordinal);
        using var reader = await temp.OpenReaderAsync();
        foreach (var sha256 in Stays) Assert.NotNull(await reader.ReadEvidenceAsync(sha256, Token));
        foreach (var sha256 in Gone) Assert.Null(await reader.ReadEvidenceAsync(sha256, Token));
        Assert.False(File.Exists(temp.Segment(1)));
    }

    private static string Text(byte[]? bytes) => System.Text.Encoding.UTF8.GetString(bytes ?? []);
}
