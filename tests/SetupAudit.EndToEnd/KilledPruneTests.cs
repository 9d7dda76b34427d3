using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>
/// The program is killed at a chosen system call while it drops evidence. Afterwards the record verifies as it is: what
/// is gone is said to be dropped, and nothing else is missing; the next act drops the rest. SETUPAUDIT_KILLS says how
/// often; the seed is printed.
/// </summary>
public sealed class KilledPruneTests
{
    private static readonly string[] Calls = ["pwrite64", "fsync", "unlink", "openat"];

    [Fact]
    public void Killed_at_any_system_call_it_has_dropped_nothing_or_said_it()
    {
        Assert.SkipUnless(CrashTests.StraceWorks.Value, "strace cannot follow a process here");
        var wanted = int.Parse(Environment.GetEnvironmentVariable("SETUPAUDIT_KILLS") ?? "6", CultureInfo.InvariantCulture);
        var seed = Random.Shared.Next();
        TestContext.Current.SendDiagnosticMessage($"seed {seed}");
        var random = new Random(seed);
        using var shop = Filled();
        var rows = Rows(shop);
        Copy(shop["audit"], shop["before"]);
        var most = Calls.ToDictionary(call => call, call => Counted(shop, call));
        var all = Dropped(shop);
        Assert.True(all > 10, $"{all} are dropped");

        for (var kill = 0; kill < wanted; kill++)
        {
            Again(shop);
            var call = Calls[kill % Calls.Length];
            // What comes before opens the store and derives, and is CrashTests's.
            var when = random.Next(3 * most[call] / 5, most[call] + 1);
            Under(shop, "-e", $"trace={call}", "-e", string.Create(CultureInfo.InvariantCulture, $"inject={call}:signal=KILL:when={when}"));
            var said = string.Create(CultureInfo.InvariantCulture, $"seed {seed}, {call} {when}");

            // Files that are said to be dropped may still be there; the others all are.
            var verified = shop.Run("verify", "--without-evidence");
            Assert.True(verified.ExitCode == 0 || verified.Output.Contains("not-anchored", StringComparison.Ordinal), $"{said}\n{verified}");
            shop.Run("once");
            Assert.True(shop.Run("verify").ExitCode == 0, said);
            Assert.Equal(rows, Rows(shop));
            var isDone = Dropped(shop) > 0;
            Assert.Equal((isDone ? 1 : 0, isDone ? all : 0), (Prunings(shop), Dropped(shop)));
            Assert.Equal(isDone, Marked(shop) > 0);
            Assert.Equal(!isDone, File.Exists(shop["audit/evidence/segment-000001.seg"]));
            Prune(shop).Exits(0);
            Assert.Equal((1L, all), (Prunings(shop), Dropped(shop)));
            shop.Run("verify").Exits(0);
            Assert.Equal(rows, Rows(shop));
        }
    }

    private static Workshop Filled()
    {
        var shop = Workshop.With(Workshop.OneMill);
        for (var number = 0; number < 24; number++)
        {
            var moment = new DateTime(2026, 3, 2, 7, 0, 0, DateTimeKind.Utc).AddHours(30 * number);
            shop.Write(string.Create(CultureInfo.InvariantCulture, $"shares/mill-3/offsets/{number:00}.nc"), At(moment),
                string.Create(CultureInfo.InvariantCulture, $"%\nG90 G10 L2 P1 X-{300 + number}.5 Y-205. Z-310.25\n%\n"));
            // A setup is over where parts were made in it.
            shop.Write(string.Create(CultureInfo.InvariantCulture, $"shares/mill-3/prints/{number:00}.log"), At(moment.AddHours(2)),
                $"{Printed(moment.AddHours(1))} CYCLE START O2041\n{Printed(moment.AddHours(2))} CYCLE END O2041\n");
        }
        shop.Once();
        shop.Write("ann.txt", "2026-03-01T00:00:00Z", "four plain words do\n");
        shop.Run("people", "add", "Ann Reed", "--role", "administrator", "--password-file", shop["ann.txt"]).Exits(0);
        return shop;
    }

    private static string At(DateTime moment) => moment.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static string Printed(DateTime moment) => moment.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private static string[] PruneWords(Workshop shop) =>
        ["prune", "--before", "2026-03-20T12:00:00Z", "--by", "Ann Reed", "--reason", "policy 7", "--password-file", shop["ann.txt"]];

    private static Ran Prune(Workshop shop) => shop.Run(PruneWords(shop));

    private static Ran Under(Workshop shop, params IReadOnlyList<string> strace) => BuiltProgram.RunUnder(
        ["strace", "-f", "-qq", "-o", shop["calls.txt"], .. strace], shop.Folder, [.. PruneWords(shop), "--config", shop.ConfigPath]);

    private static int Counted(Workshop shop, string call)
    {
        Again(shop);
        Under(shop, "-e", $"trace={call}").Exits(0);
        return Regex.Count(File.ReadAllText(shop["calls.txt"]), call + @"\(");
    }

    private static void Again(Workshop shop)
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(shop["audit"], recursive: true);
        Copy(shop["before"], shop["audit"]);
    }

    private static void Copy(string from, string to)
    {
        foreach (var path in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var copy = Path.Combine(to, Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy, overwrite: true);
        }
    }

    // All but the mark of what was dropped.
    private static List<string> Rows(Workshop shop) =>
    [
        .. new[] { "setups", "changes", "findings", "arrivals" }.SelectMany(kind => shop.List(kind))
            .Select(row => Regex.Replace(row.GetRawText(), ",\"dropped\":(null|\"[^\"]*\")", "")),
    ];

    private static int Marked(Workshop shop) => shop.List("arrivals").Count(row => row.Text("dropped") is not null);

    private static long Dropped(Workshop shop) => Ask(shop, "SELECT COUNT(*) FROM dropped");

    private static long Prunings(Workshop shop) => Ask(shop, "SELECT COUNT(*) FROM pruning");

    private static long Ask(Workshop shop, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={shop["audit/audit.db"]};Mode=ReadWrite;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return (long)command.ExecuteScalar()!;
    }
}
