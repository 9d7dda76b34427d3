using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>
/// The program is killed, or a system call of it fails, at a chosen call while it takes in and derives. What was kept by
/// then is deleted from the share, so that nothing but the record can bring it back; in the end every file must be
/// there exactly once, the record must verify, and deriving again must give the same. strace chooses the call, so a
/// round can be run again: the seed is printed.
/// </summary>
public sealed class CrashTests
{
    private const string Kills = "SETUPAUDIT_KILLS";

    private static readonly (string Call, int Most)[] Calls = [("pwrite64", 220), ("fsync", 24), ("openat", 420)];

    [Fact]
    public void Killed_at_any_system_call_it_loses_nothing_keeps_nothing_twice_and_the_record_verifies()
    {
        Assert.SkipUnless(StraceWorks.Value, "strace cannot follow a process here");
        var wanted = int.Parse(Environment.GetEnvironmentVariable(Kills) ?? "100", CultureInfo.InvariantCulture);
        var seed = Random.Shared.Next();
        TestContext.Current.SendDiagnosticMessage($"seed {seed}");
        var random = new Random(seed);
        using var shop = Workshop.With(Workshop.OneMill);
        var written = new List<(string Name, string Sha256)>();
        var kills = 0;
        for (var round = 0; kills < wanted && round < 4 * wanted; round++)
        {
            written.AddRange(WriteSome(shop, written.Count, random));
            var (call, most) = Calls[random.Next(Calls.Length)];
            var ran = Under(shop, string.Create(CultureInfo.InvariantCulture,
                $"{call}:signal=KILL:when={random.Next(1, most)}"), call);
            if (ran.ExitCode is not (0 or 1)) kills++;
            foreach (var (name, _) in Kept(shop, written).Where(_ => random.Next(3) > 0)) File.Delete(shop[name]);
        }

        Assert.Equal(wanted, kills);
        EndsWhole(shop, written, seed);
    }

    [Theory]
    [InlineData("pwrite64", "EIO", 30)]
    [InlineData("pwrite64", "ENOSPC", 30)]
    [InlineData("fsync", "EIO", 12)]
    [InlineData("fsync", "ENOSPC", 12)]
    public void A_system_call_that_fails_is_said_in_a_sentence_and_the_next_run_makes_it_good(
        string call, string error, int rounds)
    {
        Assert.SkipUnless(StraceWorks.Value, "strace cannot follow a process here");
        var seed = Random.Shared.Next();
        var random = new Random(seed);
        using var shop = Workshop.With(Workshop.OneMill);
        var written = new List<(string Name, string Sha256)>();
        var most = Calls.Single(one => one.Call == call).Most;
        for (var round = 0; round < rounds / 3; round++)
        {
            written.AddRange(WriteSome(shop, written.Count, random));
            var when = random.Next(1, most);
            var ran = Under(shop, string.Create(CultureInfo.InvariantCulture, $"{call}:error={error}:when={when}"), call);
            if (ran.ExitCode is not (0 or 1 or 2) || ran.Errors.Contains("fault of the program", StringComparison.Ordinal))
                Assert.Fail($"seed {seed}, call {when}\n{ran}");
            foreach (var (name, _) in Kept(shop, written).Where(_ => random.Next(3) > 0)) File.Delete(shop[name]);
        }

        EndsWhole(shop, written, seed);
    }

    private static void EndsWhole(Workshop shop, List<(string Name, string Sha256)> written, int seed)
    {
        shop.Once();
        var kept = Arrivals(shop);
        var lost = written.Where(file => kept.GetValueOrDefault(file.Sha256) == 0).ToList();
        var twice = written.Where(file => kept.GetValueOrDefault(file.Sha256) > 1).ToList();
        if (lost.Count + twice.Count > 0)
            Assert.Fail($"seed {seed}: lost {string.Join(", ", lost)}; twice {string.Join(", ", twice)}");
        shop.Run("verify").Exits(0);
        shop.Run("rebuild").Exits(0);
    }

    private static Ran Under(Workshop shop, string inject, string call) => BuiltProgram.RunUnder(
        ["strace", "-f", "-qq", "-o", "/dev/null", "-e", $"trace={call}", "-e", $"inject={inject}"],
        shop.Folder, "once", "--config", shop.ConfigPath);

    // Every dump has its own bytes and time, so that each is one arrival and no more.
    private static IEnumerable<(string Name, string Sha256)> WriteSome(Workshop shop, int number, Random random)
    {
        for (var some = random.Next(1, 5); some > 0; some--, number++)
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"shares/mill-3/offsets/{number:00000}.nc");
            var text = string.Create(CultureInfo.InvariantCulture,
                $"%\n(DUMP {number})\nG90 G10 L2 P1 X-{300 + number % 7}.{number % 10} Y-205. Z-310.25\n%\n");
            var moment = new DateTime(2026, 3, 2, 7, 0, 0, DateTimeKind.Utc).AddMinutes(7 * number);
            shop.Write(name, moment.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), text);
            yield return (name, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))));
        }
    }

    private static List<(string Name, string Sha256)> Kept(
        Workshop shop, IEnumerable<(string Name, string Sha256)> written)
    {
        var kept = Arrivals(shop);
        return [.. written.Where(file => kept.ContainsKey(file.Sha256) && File.Exists(shop[file.Name]))];
    }

    private static Dictionary<string, int> Arrivals(Workshop shop)
    {
        var database = shop["audit/audit.db"];
        if (!File.Exists(database)) return [];
        using var connection = new SqliteConnection($"Data Source={database};Mode=ReadWrite;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = """
            SELECT sha256, COUNT(*) FROM arrival
            WHERE (SELECT COUNT(*) FROM sqlite_schema WHERE name = 'arrival') > 0 GROUP BY sha256
            """;
        var found = new Dictionary<string, int>(StringComparer.Ordinal);
        try
        {
            using var rows = command.ExecuteReader();
            while (rows.Read()) found[rows.GetString(0)] = rows.GetInt32(1);
        }
        catch (SqliteException fault) when (fault.Message.Contains("no such table", StringComparison.Ordinal))
        {
            // Killed before the tables were made.
            return [];
        }
        return found;
    }

    internal static readonly Lazy<bool> StraceWorks = new(() =>
    {
        try
        {
            using var strace = Process.Start(new ProcessStartInfo("strace")
            {
                ArgumentList = { "-f", "-qq", "-o", "/dev/null", "-e", "trace=pwrite64", "true" },
                RedirectStandardError = true,
                RedirectStandardOutput = true,
            });
            strace?.WaitForExit();
            return strace?.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    });
}
