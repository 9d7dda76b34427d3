using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store.Bundles;
using SetupAudit.Store.Stamps;
using SetupAudit.Support;

namespace SetupAudit.Commands;

/// <summary>Bundles of a record that was time-stamped.</summary>
public sealed class StampedBundleTests
{
    [Fact]
    public async Task A_bundle_carries_the_stamp_over_what_was_known_and_is_checked_by_certificates_given()
    {
        await using var authority = new HouseAuthority();
        using var bench = await MadeAsync(authority);
        var stamp = Assert.Single(bench.Files().Keys, name => name.StartsWith("stamps/", StringComparison.Ordinal));
        var size = Path.GetFileNameWithoutExtension(stamp);
        SecondBundle.Check(await File.ReadAllBytesAsync(bench.Path, CommandBench.Token));

        var (status, written, _) = await CommandBench.RunAloneAsync("verify", bench.Path, "--authority", authority.RootFile);
        Assert.Equal(0, status);
        Assert.Matches($@"\nTime-stamped to {size} on \d{{4}}-\d\d-\d\dT\d\d:\d\d:\d\dZ by CN=Harrow Lane time \(made up\), C=GB \(1 stamp in {stamp}\)\.\n", written);

        (status, written, _) = await CommandBench.RunAloneAsync("verify", bench.Path);
        Assert.Equal(0, status);
        Assert.Contains($"(1 stamp in {stamp}); not checked against a trusted authority: anybody can make such a stamp.", written, StringComparison.Ordinal);
        (_, written, _) = await CommandBench.RunAloneAsync("verify", bench.Path, "--json");
        var told = Assert.Single(JsonDocument.Parse(written).RootElement.GetProperty("stamps").EnumerateArray());
        Assert.Equal((size, false), (told.GetProperty("size").ToString(), told.GetProperty("isTrusted").GetBoolean()));
    }

    [Fact]
    public async Task Another_authority_no_certificates_or_a_stamp_over_something_else_is_a_failure()
    {
        await using var authority = new HouseAuthority();
        await using var other = new HouseAuthority();
        using var bench = await MadeAsync(authority);
        var files = bench.Files();
        var name = files.Keys.Single(one => one.StartsWith("stamps/", StringComparison.Ordinal));

        var (status, written, _) = await CommandBench.RunAloneAsync("verify", bench.Path, "--authority", other.RootFile);
        Assert.Equal(1, status);
        Assert.Contains($"First wrong [stamp-fails]: the time stamp {name} does not hold: none of the trusted", written, StringComparison.Ordinal);
        (status, _, var errors) = await CommandBench.RunAloneAsync("verify", bench.Path, "--authority", bench.Path);
        Assert.Equal((2, $"--authority: {bench.Path} holds no certificate in PEM."), (status, errors.Trim()));

        var swapped = new SortedDictionary<string, byte[]>(files, StringComparer.Ordinal) { [name] = authority.StampOver("else"u8.ToArray()) };
        Assert.Contains(BundleBench.Check(BundleBench.Zip(swapped)).Faults, fault => fault.Code == "stamp-fails"
            && fault.Text == $"the time stamp {name} does not hold: the stamp is over something else");
        var alone = new SortedDictionary<string, byte[]>(files, StringComparer.Ordinal);
        alone.Remove(name.Replace("stamps", "earlier", StringComparison.Ordinal).Replace(".tsr", ".txt", StringComparison.Ordinal));
        Assert.Contains(BundleBench.Check(BundleBench.Zip(alone)).Faults, fault => fault.Code == "stamp-fails"
            && fault.Text.EndsWith("which it is over, is not in the bundle or does not hold", StringComparison.Ordinal));
    }

    // The oldest over everything of the setup: what was stamped later says a later moment than it could.
    [Fact]
    public async Task Of_two_stamps_the_older_goes_into_the_bundle_and_one_that_does_not_hold_into_none()
    {
        await using var authority = new HouseAuthority();
        using var bench = await MadeAsync(authority);
        var stamps = StampFolder.OfStore(bench.Shop["audit"]);
        var first = Assert.Single(stamps.Sizes());
        await StampAsync(bench, authority, new HandClock(DateTimeOffset.UtcNow.AddDays(2).ToString("O")));
        Assert.Equal(2, stamps.Sizes().Count);
        await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        Assert.Contains($"stamps/{first}.tsr", bench.Files().Keys);

        await File.WriteAllBytesAsync(stamps.FileOf(first), "junk"u8.ToArray(), CommandBench.Token);
        var (_, _, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        Assert.StartsWith($"The time stamp {stamps.FileOf(first)} is left out, for it does not hold: ", errors, StringComparison.Ordinal);
        Assert.DoesNotContain(bench.Files().Keys, name => name.StartsWith("stamps/", StringComparison.Ordinal));
    }

    // Exactly the commands of the page, as a person would paste them.
    [Fact]
    public async Task The_page_checks_the_stamp_with_openssl_alone()
    {
        foreach (var tool in new[] { "bash", "sha256sum", "openssl", "xxd", "base64", "awk" }) Tool.At(tool);
        await using var authority = new HouseAuthority();
        using var bench = await MadeAsync(authority);
        var files = bench.Files();
        Assert.Contains(", there is no authority.pem", await ExportCommandTests.CheckedByHandAsync(bench, files, "without"), StringComparison.Ordinal);
        files["authority.pem"] = await File.ReadAllBytesAsync(authority.RootFile, CommandBench.Token);
        var good = await ExportCommandTests.CheckedByHandAsync(bench, files, "good");
        Assert.Matches(@"(?m)^earlier/\d+\.txt was there on \w+ +\d+ \d\d:\d\d:\d\d \d{4} GMT:$", good);
        Assert.Contains("Verification: OK", good, StringComparison.Ordinal);
        Assert.DoesNotContain("NOT", good, StringComparison.Ordinal);

        var name = files.Keys.Single(one => one.StartsWith("stamps/", StringComparison.Ordinal));
        files[name] = authority.StampOver("else"u8.ToArray());
        Assert.Contains("Verification: FAILED", await ExportCommandTests.CheckedByHandAsync(bench, files, "altered"), StringComparison.Ordinal);
    }

    private static async Task<BundleBench> MadeAsync(HouseAuthority authority)
    {
        var bench = new BundleBench();
        await bench.Shop.FillAsync();
        await StampAsync(bench, authority, TimeProvider.System);
        var (status, _, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        Assert.True(status == 0, errors);
        return bench;
    }

    private static async Task StampAsync(BundleBench bench, HouseAuthority authority, TimeProvider clock)
    {
        var config = new TimeStampConfig(authority.Url, authority.RootFile);
        Assert.Null(await new TimeStamping(bench.Shop["audit"], null, config, clock).StampAsync(CommandBench.Token));
    }
}
