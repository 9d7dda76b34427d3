using System.Diagnostics;
using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using SetupAudit.Reports;
using SetupAudit.Store;
using SetupAudit.Store.Bundles;
using SetupAudit.Support;

namespace SetupAudit.Commands;

public sealed partial class ExportCommandTests
{
    [Fact]
    public async Task A_bundle_is_checked_without_the_store_and_says_what_it_proves()
    {
        using var bench = await BundleBench.MadeAsync();
        Directory.Delete(bench.Shop["audit"], recursive: true);

        var (status, written, errors) = await CommandBench.RunAloneAsync("verify", bench.Path);

        Assert.Equal((0, ""), (status, errors));
        Assert.Matches($@"^Bundle of {Regex.Escape(MadeUp.Setup)}, record setupaudit/shop/[0-9a-f]{{16}}, made \S+Z: "
            + @"\d+ entries are in the record of \d+, \d+ rows as sealed, 1 files of evidence by their SHA-256\.\n", written);
        Assert.Contains("\nSigned with the key that it names itself: setupaudit/", written, StringComparison.Ordinal);
        Assert.Contains("\nsetup.json says nothing but what the sealed rows say; report.html is compared by its SHA-256 alone.", written, StringComparison.Ordinal);
        Assert.Matches(@"\nThe record goes on from what it was at its earlier checkpoints over \d+ entries, and changed nothing in it\.\n", written);
        Assert.EndsWith("The record itself says that this bundle was made, with the SHA-256 of its list: nothing was left out of it.\n", written, StringComparison.Ordinal);
        SecondBundle.Check(await File.ReadAllBytesAsync(bench.Path, CommandBench.Token));
    }

    [Fact]
    public async Task A_bundle_holds_the_evidence_the_rows_the_report_and_how_to_check_it()
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files();

        Assert.Equal(CommandBench.Dump, Encoding.UTF8.GetString(files.Single(file => file.Key.StartsWith("evidence/", StringComparison.Ordinal)).Value));
        Assert.Contains(MadeUp.Setup, Encoding.UTF8.GetString(files["report.html"]), StringComparison.Ordinal);
        Assert.Equal(MadeUp.Setup, JsonDocument.Parse(files["setup.json"]).RootElement.GetProperty("setup").GetString());
        Assert.Equal(CheckPage.Html, Encoding.UTF8.GetString(files["CHECK.html"]));
        var rows = string.Concat(files.Where(file => file.Key.StartsWith("rows/", StringComparison.Ordinal)).Select(file => Encoding.UTF8.GetString(file.Value)));
        // The head of the setup, and each change, finding, cycle and measurement.
        foreach (var kind in new[] { "5:setup,", "6:change,", "7:finding,", "5:cycle,", "11:measurement," })
            Assert.Contains(kind, rows, StringComparison.Ordinal);
        var kinds = files.Where(file => file.Key.StartsWith("entries/", StringComparison.Ordinal))
            .Select(file => JsonDocument.Parse(file.Value).RootElement.GetProperty("kind").GetString()).Distinct().Order(StringComparer.Ordinal);
        Assert.Equal(["arrival", "begin", "export", "finding", "rows"], kinds);
        Assert.Equal(files.Keys.Count(name => name.StartsWith("entries/", StringComparison.Ordinal)), files.Keys.Count(name => name.StartsWith("proofs/", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task The_record_says_that_it_was_exported_and_still_verifies()
    {
        using var bench = await BundleBench.MadeAsync();
        var (status, written, _) = await bench.Shop.RunAsync("verify");
        Assert.True(status == 0, written);
    }

    [Fact]
    public async Task While_a_service_writes_the_store_the_bundle_is_made_and_it_is_told_what_that_lacks()
    {
        using var bench = new BundleBench();
        await bench.Shop.FillAsync();
        await using var service = await AuditStore.OpenAsync(bench.Shop["audit"], new RecordOptions(), TimeProvider.System, CommandBench.Token);

        var (status, _, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);

        Assert.Equal(0, status);
        Assert.StartsWith("A service writes this store now, so this export is not said in the record. The bundle proves what is "
            + "in it, but not that nothing was left out; to have that, stop the service and export again.", errors, StringComparison.Ordinal);
        (status, var written, _) = await CommandBench.RunAloneAsync("verify", bench.Path);
        Assert.Equal(0, status);
        Assert.EndsWith("The record does not say that this bundle was made: it proves what is in it, and not that nothing was left out.\n", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_parts_give_the_same_bytes()
    {
        using var bench = new BundleBench();
        await bench.Shop.FillAsync();
        var bundles = new List<byte[]>();
        await using (await AuditStore.OpenAsync(bench.Shop["audit"], new RecordOptions(), TimeProvider.System, CommandBench.Token))
            for (var time = 0; time < 2; time++)
            {
                var terminal = new Terminal { Out = TextWriter.Null, Errors = TextWriter.Null, Time = new HandClock() };
                var ran = await CommandLine.RunAsync(["export", MadeUp.Setup, "--out", bench.Path, "--config", bench.Shop.Config], terminal, CommandBench.Token);
                Assert.Equal(0, ran);
                bundles.Add(await File.ReadAllBytesAsync(bench.Path, CommandBench.Token));
            }
        Assert.Equal(bundles[0], bundles[1]);
    }

    [Fact]
    public async Task Another_key_than_the_one_given_is_a_failure()
    {
        using var bench = await BundleBench.MadeAsync();
        using var other = await BundleBench.MadeAsync();
        var key = Encoding.UTF8.GetString(bench.Files()["key.txt"]).Trim();
        Assert.Equal(0, (await CommandBench.RunAloneAsync("verify", bench.Path, "--key", key)).Status);
        var (status, written, _) = await CommandBench.RunAloneAsync("verify", other.Path, "--key", key);
        Assert.Equal(1, status);
        Assert.Contains("First wrong [other-key]: it is not signed with the key ", written, StringComparison.Ordinal);
        Assert.EndsWith("NOT VERIFIED. Rest no decision about a part or a machine on this bundle.\n", written, StringComparison.Ordinal);
    }

    // Exactly the commands of the page, as a person would paste them.
    [Fact]
    public async Task The_page_checks_a_good_bundle_with_public_tools_alone_and_finds_an_altered_one()
    {
        foreach (var tool in new[] { "bash", "sha256sum", "openssl", "xxd", "base64", "awk" }) Tool.At(tool);
        using var bench = await BundleBench.MadeAsync();
        await bench.Shop.RunAsync("key", "rotate", "--by", "R. Amundsen", "--reason", "yearly");
        await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        var files = bench.Files();
        var entries = files.Keys.Count(name => name.StartsWith("entries/", StringComparison.Ordinal));

        var good = await CheckedByHandAsync(bench, files, "good");
        Assert.Equal(entries, Regex.Count(good, @"(?m)^entry \d+ is in the record$"));
        Assert.Contains("Signature Verified Successfully", good, StringComparison.Ordinal);
        // Over the change of keys, which both signed, and over all that was known of the setup.
        Assert.Equal(2, Regex.Count(good, @"(?m)^the record goes on from earlier/\d+\.txt$"));
        Assert.Equal(3, Regex.Count(good, @"(?m)^earlier/\d+\.txt is signed by setupaudit/"));
        Assert.DoesNotContain("NOT", good, StringComparison.Ordinal);
        Assert.DoesNotContain("WRONG", good, StringComparison.Ordinal);
        Assert.DoesNotContain("FAILED", good, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^entries/\d+\.json$", good);
        Assert.Matches(@"(?m)^([0-9a-f]{64})\n\1$", good);
        Assert.Contains($"\"key\":\"{Encoding.UTF8.GetString(files["key.txt"]).Trim()}\"", good, StringComparison.Ordinal);

        foreach (var (name, sign) in new[]
        {
            ("evidence/", "WRONG evidence/"), ("rows/", "WRONG rows/"), ("entries/0", "entry 0 is NOT in the record"),
            ("proofs/0", "entry 0 is NOT in the record"), ("checkpoint", "Signature Verification Failure"), ("report", "report.html: FAILED"),
            ("consistency/", "the record does NOT go on from earlier/"), ("earlier/", "is NOT signed by "),
            ("bundle", "NOT SAID IN THE RECORD"),
        })
        {
            var altered = new SortedDictionary<string, byte[]>(files, StringComparer.Ordinal);
            var file = altered.Keys.First(key => key.StartsWith(name, StringComparison.Ordinal));
            altered[file] = Altered(altered[file], file == "checkpoint.txt" ? 3 : altered[file].Length - 10);
            Assert.Contains(sign, await CheckedByHandAsync(bench, altered, file.Replace('/', '-')), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task What_cannot_be_exported_says_why()
    {
        using var bench = new BundleBench();
        await bench.Shop.FillAsync();
        var (status, _, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Shop["b.tar"]);
        Assert.Equal(2, status);
        Assert.StartsWith("--out: a bundle is written as .zip; ", errors, StringComparison.Ordinal);
        (status, _, errors) = await bench.Shop.RunAsync("export", "mill-9", "--out", bench.Path);
        Assert.Equal(2, status);
        Assert.StartsWith("No setup has an id that begins with 'mill-9'", errors, StringComparison.Ordinal);
        (status, _, errors) = await CommandBench.RunAloneAsync("verify", bench.Path);
        Assert.Equal((2, $"{bench.Path} is not there."), (status, errors.Trim()));
    }

    internal static async Task<string> CheckedByHandAsync(BundleBench bench, SortedDictionary<string, byte[]> files, string folder)
    {
        var root = bench.Shop[$"unpacked/{folder}"];
        foreach (var (name, bytes) in files)
        {
            var path = Path.Combine(root, name);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            await File.WriteAllBytesAsync(path, bytes, CommandBench.Token);
        }
        var page = Encoding.UTF8.GetString(files["CHECK.html"]);
        var script = string.Join('\n', Blocks.Matches(page).Select(block => WebUtility.HtmlDecode(block.Groups[1].Value)));
        using var shell = Process.Start(new ProcessStartInfo(Tool.At("bash"), ["-c", script + "\n"])
        {
            WorkingDirectory = root,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        });
        Assert.NotNull(shell);
        var errors = shell.StandardError.ReadToEndAsync(CommandBench.Token);
        var output = await shell.StandardOutput.ReadToEndAsync(CommandBench.Token);
        await shell.WaitForExitAsync(CommandBench.Token);
        return output + await errors;
    }

    private static byte[] Altered(byte[] bytes, int at)
    {
        byte[] altered = [.. bytes];
        altered[at] = altered[at] == (byte)'0' ? (byte)'1' : (byte)'0';
        return altered;
    }

    [GeneratedRegex("<pre>(.*?)</pre>", RegexOptions.Singleline)]
    private static partial Regex Blocks { get; }
}
