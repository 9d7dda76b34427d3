using System.Diagnostics;
using System.IO.Compression;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>Tampering with what the built program wrote, found by the built program.</summary>
public sealed class RecordTests
{
    private const string Copied = "\"Store\": { \"Folder\": \"audit\", \"Checkpoints\": \"off-box\" }, \"Web\": { \"Url\": \"http://127.0.0.1:0\" }";

    [Fact]
    public void A_record_verifies_and_a_byte_written_into_the_database_file_does_not()
    {
        using var shop = Day();
        shop.Once();
        var good = shop.Run("verify").Exits(0);
        Assert.Matches(@"^setupaudit/harrow-lane-works-made-up/[0-9a-f]{16}: verified to (\d+) of \1, anchored at \1\.", good.Output);
        Assert.Contains($"Anchored at ", good.Output, StringComparison.Ordinal);
        Assert.True(shop.Run("verify", "--json").Exits(0).Json.GetProperty("holds").GetBoolean());

        var database = File.ReadAllBytes(shop["audit/audit.db"]);
        var at = database.AsSpan().LastIndexOf("\"kind\":\"arrival\""u8);
        Assert.True(at > 0);
        database[at + 12] ^= 1;
        File.WriteAllBytes(shop["audit/audit.db"], database);
        var bad = shop.Run("verify").Exits(1);
        Assert.Matches(@"(?m)^First wrong \[entry-altered\]: entry \d+ was altered: what it says is not what was signed\.$", bad.Output);
    }

    [Fact]
    public void An_older_copy_put_back_is_refused_and_found_by_what_lies_elsewhere()
    {
        using var shop = Day();
        Directory.CreateDirectory(shop["off-box"]);
        shop.Once();
        Copy(shop["audit"], shop["last-week"]);
        shop.Write("shares/mill-3/offsets/0800.nc", "2026-03-02T08:00:00Z", "G10 L2 P1 X-311. Y-205. Z-300.\n").Once();
        shop.Run("verify").Exits(0);

        Directory.Delete(shop["audit"], recursive: true);
        Copy(shop["last-week"], shop["audit"]);

        Assert.Contains("First wrong [smaller-than-anchor]: ", shop.Run("verify").Exits(1).Output, StringComparison.Ordinal);
        Assert.Contains("a second history is never signed", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_whole_store_swapped_for_another_is_not_signed_with_the_key_that_was_written_down()
    {
        using var shop = Day();
        shop.Once();
        var key = shop.Run("verify", "--json").Exits(0).Json.GetProperty("key").GetString() ?? "";
        shop.Run("verify", "--key", key).Exits(0);
        Directory.Delete(shop["audit"], recursive: true);
        Directory.Delete(shop["off-box"], recursive: true);
        Directory.CreateDirectory(shop["off-box"]);
        shop.Once();
        shop.Run("verify").Exits(0);
        Assert.Contains("First wrong [other-key]: ", shop.Run("verify", "--key", key).Exits(1).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_altered_past_the_guards_and_signatures_taken_away_are_found()
    {
        using var shop = Day();
        shop.Once();
        Execute(shop, "DROP TRIGGER derived_update; UPDATE derived SET body = replace(body, '310', '311') WHERE kind = 'change'");
        var altered = shop.Run("verify").Exits(1).Output;
        Assert.Matches(@"(?m)^First wrong \[rows-altered\]: the rows \d+ to \d+ of the table derived .* something in them was altered\.$", altered);
        Assert.Contains("Also wrong [database-rebuilt]: the database lacks the trigger derived_update that the program builds.", altered, StringComparison.Ordinal);
        Execute(shop, "DROP TRIGGER checkpoint_update; UPDATE checkpoint SET signed = ''");
        Assert.Contains("[unsigned]: ", shop.Run("verify").Exits(1).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bundle_verifies_without_store_and_configuration_and_not_when_a_file_of_it_is_altered()
    {
        using var shop = Day();
        shop.Once();
        var setup = shop.List("setups")[0].GetProperty("setup").GetString() ?? "";
        shop.Run("export", setup, "--out", shop["bundle.zip"]).Exits(0);
        shop.Run("verify").Exits(0);
        var good = BuiltProgram.Run(shop.Folder, "verify", "bundle.zip").Exits(0);
        Assert.StartsWith($"Bundle of {setup}, record setupaudit/harrow-lane-works-made-up/", good.Output, StringComparison.Ordinal);

        using (var zip = ZipFile.Open(shop["bundle.zip"], ZipArchiveMode.Update))
        {
            zip.Entries.Single(entry => entry.FullName == "report.html").Delete();
            using var report = new StreamWriter(zip.CreateEntry("report.html").Open());
            report.Write("<p>All was well.</p>");
        }
        var bad = BuiltProgram.Run(shop.Folder, "verify", "bundle.zip").Exits(1);
        Assert.Contains("First wrong [bundle-differs]: report.html is not the file that its list names", bad.Output, StringComparison.Ordinal);
    }

    // Act 21, and a check beside a running service: it raises no false alarm.
    [Fact]
    public void Beside_a_running_service_it_verifies_and_a_second_service_does_not_start()
    {
        using var shop = Day();
        using var running = shop.Start("run");
        running.WaitFor("Watching");
        shop.Run("verify").Exits(0);
        Assert.Contains("One service writes a store at a time", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);
        running.Stop();
        shop.Run("verify").Exits(0);
    }

    // The system's own word: the key is made with mode 0600, and no call widens it.
    [Fact]
    public void The_key_is_its_owners_from_the_first_moment_on()
    {
        using var shop = Day();
        var trace = shop["trace"];
        using var traced = Process.Start(new ProcessStartInfo(Tool.At("strace"),
            ["-f", "-e", "trace=open,openat,creat,chmod,fchmod,fchmodat", "-o", trace, .. BuiltProgram.Executable(), "once", "--config", shop.ConfigPath])
        {
            WorkingDirectory = shop.Folder,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        });
        Assert.NotNull(traced);
        traced.BeginErrorReadLine();
        traced.StandardOutput.ReadToEnd();
        traced.WaitForExit();
        if (!File.Exists(trace) || new FileInfo(trace).Length == 0) Assert.Skip("strace may not trace here");

        var calls = File.ReadLines(trace).Where(line => line.Contains("record.key", StringComparison.Ordinal)).ToList();
        var made = Assert.Single(calls, line => line.Contains("O_CREAT", StringComparison.Ordinal));
        Assert.Matches(@"O_EXCL.*, 0600\) = \d+", made);
        Assert.DoesNotContain(calls, line => Regex.IsMatch(line, @"\bf?chmod"));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(shop["audit/record.key"]));
    }

    private static Workshop Day()
    {
        var shop = Workshop.With(Workshop.OneMill.Replace("\"Store\": { \"Folder\": \"audit\" }", Copied, StringComparison.Ordinal))
            .Write("shares/mill-3/offsets/0700.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 X-310. Y-205. Z-300.\n")
            .Write("shares/mill-3/offsets/0710.nc", "2026-03-02T07:10:00Z", "G10 L2 P1 X-310.25 Y-205. Z-300.\n")
            .Write("shares/mill-3/prints/day.log", "2026-03-02T07:30:00Z", "2026-03-02 07:20:00 CYCLE START O0042\n2026-03-02 07:25:00 CYCLE END O0042\n");
        Directory.CreateDirectory(shop["off-box"]);
        return shop;
    }

    private static void Execute(Workshop shop, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={shop["audit/audit.db"]};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static void Copy(string from, string to)
    {
        foreach (var path in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var copy = Path.Combine(to, Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy) ?? to);
            File.Copy(path, copy);
        }
    }
}
