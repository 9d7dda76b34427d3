using System.Text;
using SetupAudit.Records;
using SetupAudit.Reports;
using SetupAudit.Store;
using SetupAudit.Store.Bundles;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

public sealed class KeyCommandTests
{
    [Fact]
    public async Task A_new_key_is_shown_to_be_written_down_and_stands_in_the_trail_with_who_and_why()
    {
        using var bench = await BundleBench.MadeAsync();
        var old = KeyOf(bench);
        var (status, written, errors) = await RotateAsync(bench);

        Assert.Equal(0, status);
        Assert.True(VerifierKey.TryRead(written.Trim(), out _, out _), written);
        Assert.Contains("is out of this program's reach", errors, StringComparison.Ordinal);
        foreach (var key in new[] { old, written.Trim() })
            Assert.Equal(0, (await bench.Shop.RunAsync("verify", "--key", key)).Status);
        Assert.Contains("another key signs from here on: yearly", (await bench.Shop.RunAsync("list", "trail")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Bundles_from_before_and_after_the_change_hold_for_who_kept_the_old_key()
    {
        using var bench = await BundleBench.MadeAsync();
        var old = KeyOf(bench);
        var before = await File.ReadAllBytesAsync(bench.Path, CommandBench.Token);
        Assert.Equal(0, (await RotateAsync(bench)).Status);
        Assert.Equal(0, (await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path)).Status);

        Assert.Equal(0, (await CommandBench.RunAloneAsync("verify", bench.Path, "--key", old)).Status);
        Assert.NotEqual(old, KeyOf(bench));
        SecondBundle.Check(await File.ReadAllBytesAsync(bench.Path, CommandBench.Token));
        await File.WriteAllBytesAsync(bench.Path, before, CommandBench.Token);
        Assert.Equal(0, (await CommandBench.RunAloneAsync("verify", bench.Path, "--key", old)).Status);
    }

    [Fact]
    public async Task A_bundle_from_before_the_change_tells_whoever_gives_the_new_key_which_one_to_give()
    {
        using var bench = await BundleBench.MadeAsync();
        using var other = await BundleBench.MadeAsync();
        var old = KeyOf(bench);
        var (_, written, _) = await RotateAsync(bench);

        var (status, said, _) = await CommandBench.RunAloneAsync("verify", bench.Path, "--key", written.Trim());
        Assert.Equal(1, status);
        var id = string.Join('+', old.Split('+')[..2]);
        Assert.Contains($"First wrong [other-key]: it is not signed with the key {written.Trim()} that was given, but with {old}. Where 'key "
            + $"rotate' has changed the record's key since, give the key from before, if you wrote down {id} at that time", said, StringComparison.Ordinal);
        (_, said, _) = await CommandBench.RunAloneAsync("verify", bench.Path, "--key", KeyOf(other));
        Assert.Contains($"; the key given is of another record, {KeyOf(other).Split('+')[0]}.", said, StringComparison.Ordinal);
    }

    // Else whoever makes a key of their own could name the pinned one as the one before it.
    [Fact]
    public async Task A_change_that_the_old_key_did_not_sign_is_found_in_a_bundle()
    {
        using var bench = await BundleBench.MadeAsync();
        var old = KeyOf(bench);
        await RotateAsync(bench);
        await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        var files = bench.Files();
        foreach (var name in files.Keys.Where(name => name.StartsWith("earlier/", StringComparison.Ordinal)).ToList())
        {
            var lines = Encoding.UTF8.GetString(files[name]).Split('\n');
            var id = old.Split('+')[1];
            files[name] = Encoding.UTF8.GetBytes(string.Join('\n', lines.Where(line =>
                !line.StartsWith('—') || Convert.ToHexStringLower(Convert.FromBase64String(line.Split(' ')[2]).AsSpan(0, 4)) != id)));
        }
        var altered = BundleBench.Zip(files);
        Assert.Contains(BundleBench.Check(altered).Faults, fault => fault.Code == FaultCode.KeyChange);
        Assert.ThrowsAny<Exception>(() => SecondBundle.Check(altered));
    }

    [Fact]
    public async Task What_cannot_be_done_says_why_and_changes_nothing()
    {
        using var bench = await BundleBench.MadeAsync();
        var before = await File.ReadAllTextAsync(bench.Shop["audit/record.key"], CommandBench.Token);
        await using (await AuditStore.OpenAsync(bench.Shop["audit"], new RecordOptions(), TimeProvider.System, CommandBench.Token))
        {
            var (held, _, why) = await RotateAsync(bench);
            Assert.Equal(2, held);
            Assert.Contains("stop that one first", why, StringComparison.Ordinal);
        }
        var (status, _, errors) = await bench.Shop.RunAsync("key", "rotate", "--by", " ", "--reason", "yearly");
        Assert.Equal((2, "Say who decides it with --by NAME and why with --reason TEXT."), (status, errors.Trim()));
        Assert.Equal(before, await File.ReadAllTextAsync(bench.Shop["audit/record.key"], CommandBench.Token));
        using var empty = new CommandBench();
        Assert.NotEqual(0, (await empty.RunAsync("key", "rotate", "--by", "A", "--reason", "b")).Status);
        Assert.False(File.Exists(empty["audit/record.key"]));
    }

    private static Task<(int Status, string Out, string Errors)> RotateAsync(BundleBench bench) =>
        bench.Shop.RunAsync("key", "rotate", "--by", "R. Amundsen", "--reason", "yearly");

    private static string KeyOf(BundleBench bench) => Encoding.UTF8.GetString(bench.Files()["key.txt"]).Trim();
}
