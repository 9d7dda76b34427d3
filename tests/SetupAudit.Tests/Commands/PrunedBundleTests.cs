using System.Text;
using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Store;
using SetupAudit.Store.Bundles;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;

namespace SetupAudit.Commands;

/// <summary>Bundles of a setup whose evidence was dropped, and one that was made before.</summary>
public sealed class PrunedBundleTests
{
    private static readonly string Sha256 = TempStore.Hash(TempStore.Bytes(CommandBench.Dump));

    [Fact]
    public async Task A_bundle_says_who_dropped_what_when_and_why_and_verifies_as_the_older_one_does()
    {
        using var bench = await BundleBench.MadeAsync();
        var older = await File.ReadAllBytesAsync(bench.Path, CommandBench.Token);
        await PruneAsync(bench);

        var (status, _, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);

        Assert.True(status == 0, errors);
        Assert.StartsWith("1 file of evidence was dropped that it rests on; the bundle says when, by whom and why.", errors, StringComparison.Ordinal);
        (status, var written, _) = await CommandBench.RunAloneAsync("verify", bench.Path);
        Assert.True(status == 0, written);
        Assert.Contains("rows as sealed, 0 files of evidence by their SHA-256.\n", written, StringComparison.Ordinal);
        Assert.EndsWith("1 file of evidence was dropped before it was made, on 2026-03-02 by Ann Reed (the policy says so); "
            + "that they were taken in is proved as ever.\n", Dated(written), StringComparison.Ordinal);
        Assert.Contains("nothing was left out of it.\n", written, StringComparison.Ordinal);
        var files = bench.Files();
        Assert.DoesNotContain(files.Keys, name => name.StartsWith("evidence/", StringComparison.Ordinal));
        Assert.Contains($"{Sha256}", Encoding.UTF8.GetString(files["bundle.json"]), StringComparison.Ordinal);
        Assert.Contains("The bytes of 1 file marked with a star were dropped on 2026-03-02 by Ann Reed (the policy says so). What was "
            + "derived from them stands as it is recorded.", Encoding.UTF8.GetString(files["report.html"]), StringComparison.Ordinal);
        SecondBundle.Check(await File.ReadAllBytesAsync(bench.Path, CommandBench.Token));
        Assert.True(BundleBench.Check(older).Holds);
        SecondBundle.Check(older);
    }

    [Fact]
    public async Task The_page_checks_by_hand_that_what_is_missing_was_dropped()
    {
        foreach (var tool in new[] { "bash", "sha256sum", "openssl", "xxd", "base64", "awk", "sed", "grep" }) Tool.At(tool);
        using var bench = await BundleBench.MadeAsync();
        await PruneAsync(bench);
        await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        var files = bench.Files();

        var good = await ExportCommandTests.CheckedByHandAsync(bench, files, "good");
        Assert.DoesNotContain("NOT", good, StringComparison.Ordinal);
        Assert.DoesNotContain("WRONG", good, StringComparison.Ordinal);

        Leave(files, Sealing(files));
        var bad = await ExportCommandTests.CheckedByHandAsync(bench, files, "bad");
        Assert.Contains($"NOT SAID TO BE DROPPED {Sha256}", bad, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_list_that_says_of_bytes_that_they_were_dropped_where_no_entry_does_is_refused()
    {
        using var bench = await BundleBench.MadeAsync();
        await PruneAsync(bench);
        await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        var files = bench.Files();
        var sealing = Sealing(files);
        Leave(files, sealing);
        var manifest = BundleManifest.Read(files["bundle.json"])!;
        files["bundle.json"] = (manifest with
        {
            Files = [.. manifest.Files.Where(file => file.Name != sealing && file.Name != Rows(sealing))],
        }).ToBytes();

        var check = BundleBench.Check(BundleBench.Zip(files));

        Assert.Contains(check.Faults, fault => fault.Code == FaultCode.BundleIncomplete
            && fault.Text == $"its list says that the bytes {Sha256} were dropped, and no entry in it does");
    }

    private static async Task PruneAsync(BundleBench bench)
    {
        await using var store = await AuditStore.OpenAsync(bench.Shop["audit"], new RecordOptions(), TimeProvider.System, CommandBench.Token);
        await store.PruneAsync(Drops.Of([Sha256]), CommandBench.Token);
    }

    // The act is said when it is said: on the day of the test.
    private static string Dated(string written) => written.Replace(
        $"on {DateTimeOffset.UtcNow:yyyy-MM-dd} by", "on 2026-03-02 by", StringComparison.Ordinal);

    private static string Sealing(SortedDictionary<string, byte[]> files) => files.Single(file =>
        file.Key.StartsWith("entries/", StringComparison.Ordinal)
        && JsonDocument.Parse(file.Value).RootElement.GetProperty("said").TryGetProperty("table", out var table)
        && table.GetString() == "dropped").Key;

    private static string Rows(string entry) =>
        entry.Replace("entries/", "rows/", StringComparison.Ordinal).Replace(".json", ".rows", StringComparison.Ordinal);

    private static void Leave(SortedDictionary<string, byte[]> files, string entry)
    {
        files.Remove(entry);
        files.Remove(Rows(entry));
        files.Remove(entry.Replace("entries/", "proofs/", StringComparison.Ordinal).Replace(".json", ".txt", StringComparison.Ordinal));
    }
}
