using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using SetupAudit.Demo;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>The built program with its rows in PostgreSQL: it says what it says with SQLite, and loses nothing.</summary>
public sealed class PostgresTests
{
    private static readonly string[] Kinds =
        ["setups", "changes", "findings", "measurements", "programs", "cycles", "coverage", "alerts", "reviews"];

    private const int Kills = 15;

    // strace counts for each thread; one round says some 127 words in all.
    private const int WordsMost = 50;

    // What follows from when it was taken in.
    private static readonly string[] OfTheMoment = ["received", "at"];

    [Fact]
    public void The_same_shop_is_told_alike_whichever_database_its_rows_are_in()
    {
        using var file = DemoIn(DemoConfig);
        using var server = DemoIn(In(PostgresServer.Shared.NewDatabase(), DemoConfig));
        foreach (var shop in new[] { file, server }) shop.Once(exits: 1);

        foreach (var kind in Kinds)
            Assert.Equal(file.Run("list", kind, "--json").Exits(0).Output, server.Run("list", kind, "--json").Exits(0).Output);
        Assert.Equal(Arrivals(file), Arrivals(server));
        foreach (var command in new string[][]
        {
            ["state", "--machine", "mill-3", "--at", "2026-03-09T08:00", "--json"],
            ["ready", "--machine", "mill-3", "--json"],
            ["trace", "--machine", "mill-3", "--at", "2026-03-09T12:00", "--error", "X=0.25", "--json"],
        })
            Assert.Equal(file.Run(command) is var left ? (left.ExitCode, left.Output) : default,
                server.Run(command) is var right ? (right.ExitCode, right.Output) : default);
        server.Run("report", "mill-3@20260309", "--out", server["report.json"]).Exits(0);
        file.Run("report", "mill-3@20260309", "--out", file["report.json"]).Exits(0);
        Assert.Equal(File.ReadAllText(file["report.json"]), File.ReadAllText(server["report.json"]));

        server.Run("verify").Exits(0);
        server.Run("rebuild").Exits(0);
        server.Run("export", "mill-3@20260309", "--out", server["one.zip"]).Exits(0);
        Assert.Contains("nothing was left out of it", BuiltProgram.Run(server.Folder, "verify", server["one.zip"]).Exits(0).Output, StringComparison.Ordinal);
        server.Run("key", "rotate", "--by", "Ann Reed", "--reason", "each year").Exits(0);
        server.Run("review", "mill-3@20260309", "--by", "Ann Reed", "--verdict", "accepted", "--reason", "looked at").Exits(0);
        server.Once();
        server.Run("verify").Exits(0);
    }

    [Fact]
    public void A_copy_of_checkpoints_rows_and_evidence_is_put_back_and_goes_on()
    {
        using var shop = Workshop.With(In(PostgresServer.Shared.NewDatabase(), Workshop.OneMill));
        WriteSome(shop, 0, 3);
        shop.Once();
        Assert.Contains("docs/operations.md", shop.Run("backup", "--out", shop["copy"]).Exits(2).Errors, StringComparison.Ordinal);
        Assert.Contains("docs/operations.md", shop.Run("restore", "--from", shop["copy"]).Exits(2).Errors, StringComparison.Ordinal);

        // As docs/operations.md says: checkpoints, rows, evidence.
        Directory.CreateDirectory(shop["copy/evidence"]);
        File.Copy(shop["audit/checkpoints.txt"], shop["copy/checkpoints.txt"]);
        Pg("pg_dump", "-Fc", "-f", shop["copy/rows.dump"], Database(shop));
        foreach (var path in Directory.GetFiles(shop["audit/evidence"]))
            File.Copy(path, Path.Combine(shop["copy/evidence"], Path.GetFileName(path)));
        File.Copy(shop["audit/record.key"], shop["kept.key"]);
        Directory.Delete(shop["audit"], recursive: true);

        var again = PostgresServer.Shared.NewDatabase();
        shop.Configure(In(again, Workshop.OneMill));
        Pg("pg_restore", "--exit-on-error", "--no-owner", "-d", Database(shop), shop["copy/rows.dump"]);
        Directory.CreateDirectory(shop["audit"]);
        Directory.Move(shop["copy/evidence"], shop["audit/evidence"]);
        File.Move(shop["copy/checkpoints.txt"], shop["audit/checkpoints.txt"]);
        File.Move(shop["kept.key"], shop["audit/record.key"]);
        shop.Run("verify").Exits(0);
        WriteSome(shop, 3, 2);
        shop.Once();
        Assert.Equal(5, shop.List("arrivals").Count);
        shop.Run("verify").Exits(0);
        shop.Run("rebuild").Exits(0);
    }

    [Fact]
    public void A_role_that_owns_nothing_is_enough_for_all_that_the_service_does_dropping_evidence_too()
    {
        var server = PostgresServer.Shared;
        Pg("psql", "-d", "postgres", "-q", "-v", "ON_ERROR_STOP=1", "-f", Repository.At("deploy/postgres-roles.sql"));
        using var shop = DemoIn(In(server.Text("setupaudit", "setupaudit"), DemoConfig));
        Assert.Contains("'setupaudit tables --config FILE' prints", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);
        Build(shop);
        shop.Once(exits: 1);
        foreach (var (name, role) in new[] { ("Ann Reed", "administrator"), ("Omar Diaz", "quality") })
        {
            var file = $"{name.Split(' ')[0].ToLowerInvariant()}.txt";
            shop.Write(file, "2026-03-01T00:00:00Z", $"four plain words of {name.Split(' ')[0]}\n");
            shop.Run("people", "add", name, "--role", role, "--password-file", shop[file]).Exits(0);
        }
        var before = shop.Run("list", "findings", "--json").Exits(0).Output;
        PruneTests.Prune(shop).Exits(0);
        Assert.Equal(before, shop.Run("list", "findings", "--json").Exits(0).Output);
        shop.Run("key", "rotate", "--by", "Ann Reed", "--reason", "each year").Exits(0);
        var verified = shop.Run("verify").Exits(0).Output;
        Assert.Contains("files of evidence were dropped", verified, StringComparison.Ordinal);
        Assert.DoesNotContain("may also alter rows", verified, StringComparison.Ordinal);
        shop.Run("rebuild").Exits(0);
        // Done again it builds nothing, and gives again what was given.
        Assert.DoesNotContain("CREATE TABLE", Build(shop), StringComparison.Ordinal);
        shop.Once();
    }

    [Fact]
    public void What_hostile_files_hold_is_told_alike_whichever_database_its_rows_are_in()
    {
        using var file = Hostile(Workshop.OneMill);
        using var server = Hostile(In(PostgresServer.Shared.NewDatabase(), Workshop.OneMill));
        foreach (var shop in new[] { file, server })
        {
            shop.Run("once").Exits(1);
            shop.Run("verify").Exits(0);
            shop.Run("rebuild").Exits(0);
            shop.Run("list", "trail").Exits(0);
        }
        foreach (var kind in Kinds)
            Assert.Equal(file.Run("list", kind, "--json").Exits(0).Output, server.Run("list", kind, "--json").Exits(0).Output);
        Assert.Equal(Arrivals(file), Arrivals(server));
    }

    [Fact]
    public void Killed_at_any_word_to_the_server_it_loses_nothing_and_keeps_nothing_twice()
    {
        Assert.SkipUnless(CrashTests.StraceWorks.Value, "strace cannot follow a process here");
        var seed = Random.Shared.Next();
        TestContext.Current.SendDiagnosticMessage($"seed {seed}");
        var random = new Random(seed);
        using var shop = Workshop.With(In(PostgresServer.Shared.NewDatabase(), Workshop.OneMill));
        var written = new List<(string Name, string Sha256)>();
        var kills = 0;
        for (var round = 0; kills < Kills && round < 4 * Kills; round++)
        {
            written.AddRange(WriteSome(shop, written.Count, random.Next(1, 4)));
            var ran = BuiltProgram.RunUnder(["strace", "-f", "-qq", "-o", "/dev/null", "-e", "trace=sendto", "-e",
                string.Create(CultureInfo.InvariantCulture, $"inject=sendto:signal=KILL:when={random.Next(1, WordsMost)}")],
                shop.Folder, "once", "--config", shop.ConfigPath);
            if (ran.ExitCode is not (0 or 1)) kills++;
            TakeAway(shop, written, random);
        }
        Assert.Equal(Kills, kills);
        EndsWhole(shop, written, seed);
    }

    [Fact]
    public void A_server_that_is_cut_off_at_any_moment_costs_a_sentence_and_nothing_that_was_kept()
    {
        PostgresServer.Skip();
        using var server = new PostgresServer();
        var seed = Random.Shared.Next();
        var random = new Random(seed);
        using var shop = Workshop.With(In(server.NewDatabase(), Workshop.OneMill));
        shop.Once();
        var written = new List<(string Name, string Sha256)>();
        for (var round = 0; round < 8; round++)
        {
            written.AddRange(WriteSome(shop, written.Count, random.Next(2, 30)));
            using (var once = shop.Start("once"))
            {
                once.EndedWithin(TimeSpan.FromMilliseconds(random.Next(200, 2500)));
                server.StopNow();
                var ran = once.End(TimeSpan.FromMinutes(1));
                if (ran.ExitCode is not (0 or 1) || ran.Errors.Contains("   at ", StringComparison.Ordinal)) Assert.Fail($"seed {seed}\n{ran}");
            }
            server.Start();
            TakeAway(shop, written, random);
        }
        EndsWhole(shop, written, seed);
    }

    [Fact]
    public void A_service_goes_on_by_itself_when_its_server_is_back()
    {
        PostgresServer.Skip();
        using var server = new PostgresServer();
        using var shop = Workshop.With(In(server.NewDatabase(), Workshop.OneMill.Replace(
            "\"Store\":", "\"Web\": { \"Url\": \"http://127.0.0.1:0\" }, \"Store\":", StringComparison.Ordinal)));
        WriteSome(shop, 0, 2);
        using var service = shop.Start("run");
        service.WaitFor("Read 2 arrivals");
        server.StopNow();
        WriteSome(shop, 2, 3);
        service.WaitFor("opened again in");
        server.Start();
        service.WaitFor("Read 3 arrivals", TimeSpan.FromMinutes(2));
        service.Stop().Exits(0);
        Assert.Equal(5, shop.List("arrivals").Count);
        shop.Run("verify").Exits(0);
    }

    [Fact]
    public void Two_programs_with_folders_of_their_own_do_not_write_one_database()
    {
        var text = PostgresServer.Shared.NewDatabase();
        var web = Workshop.OneMill.Replace("\"Store\":", "\"Web\": { \"Url\": \"http://127.0.0.1:0\" }, \"Store\":", StringComparison.Ordinal);
        using var shop = Workshop.With(In(text, web));
        using var service = shop.Start("run");
        service.WaitFor("Watching");
        using var other = Workshop.With(In(text, web));
        var refused = other.Run("once").Exits(2);
        Assert.Contains("Another setupaudit writes the database", refused.Errors, StringComparison.Ordinal);
        Assert.Contains("Another setupaudit writes the store in", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);
        shop.Run("list", "setups").Exits(0);
        service.Stop().Exits(0);
    }

    [Fact]
    public void A_store_in_sqlite_needs_nothing_that_speaks_to_a_server()
    {
        using var shop = DemoIn(DemoConfig);
        var program = BuiltProgram.Executable();
        Directory.CreateDirectory(shop["program"]);
        var from = Path.GetDirectoryName(program[^1])!;
        foreach (var path in Directory.GetFiles(from, "*", SearchOption.AllDirectories).Where(path => Path.GetFileName(path) != "Npgsql.dll"))
        {
            var copy = Path.Combine(shop["program"], Path.GetRelativePath(from, path));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(path, copy);
        }
        program[^1] = Path.Combine(shop["program"], Path.GetFileName(program[^1]));
        foreach (var command in new[] { "once", "verify", "rebuild" })
        {
            using var ran = Process.Start(new ProcessStartInfo(program[0], [.. program.Skip(1), command, "--config", shop.ConfigPath]))!;
            ran.WaitForExit();
            Assert.Equal(command == "once" ? 1 : 0, ran.ExitCode);
        }
    }

    private static string DemoConfig => DemoShop.Files().Single(file => file.Name == DemoShop.ConfigurationFile).Text;

    private static Workshop DemoIn(string config)
    {
        var shop = Workshop.With(config);
        foreach (var file in DemoShop.Files().Where(file => file.Name != DemoShop.ConfigurationFile))
            shop.Write(file.Name, file.ModifiedUtc.ToString("O", CultureInfo.InvariantCulture), file.Text);
        return shop;
    }

    // Longer than what an index of a server takes, and not to be packed any shorter.
    private static Workshop Hostile(string config)
    {
        var random = new Random(17);
        var shop = Workshop.With(config)
            .Write("shares/mill-3/programs/long.nc", "2026-03-02T07:00:00Z", $"%\nO{Any("0123456789")} (TITLE \0\u0001)\nG54 G0 X0\nG1 Z-1. F100\nM30\n%\n")
            .Write("shares/mill-3/programs/name.nc", "2026-03-02T07:00:00Z", $"%\n<{Any("abcdefghijklmnop0123")}>\nG54 G0 X0\nM30\n%\n")
            .Write("shares/mill-3/offsets/a\u0001.nc", "2026-03-02T07:05:00Z", "%\nG10 L2 P1 X1. (\0\u0001 Höhe \U0001F527)\nG10 L2 P1 X\0\n%\n")
            .Write("shares/mill-3/prints/x.log", "2026-03-02T07:10:00Z", $"""
                2026-03-02 07:06:00 CYCLE START O{Any("0123456789")}
                2026-03-02 07:07:00 TOUCH f{"\0\u0001"}{Any("abcdefghijklmnop0123")} G54 SIZE 1{"\0"}
                2026-03-02 07:08:00 ALARM 12 text{"\0\u0001"} {Any("abcdefghijklmnop0123")}

                """);
        return shop;

        string Any(string letters) => new([.. random.GetItems(letters.AsSpan(), 9000)]);
    }

    private static string Build(Workshop shop)
    {
        var script = shop.Run("tables").Exits(0).Output;
        shop.Write("tables.sql", "2026-03-01T00:00:00Z", script);
        Pg("psql", "-d", "setupaudit", "-q", "-v", "ON_ERROR_STOP=1", "-c", "SET ROLE setupaudit_owner", "-f", shop["tables.sql"]);
        return script;
    }

    private static string In(string text, string config) => config.Replace(
        "\"Folder\": \"audit\"", $"\"Folder\": \"audit\", \"Postgres\": \"{text}\"", StringComparison.Ordinal);

    private static IReadOnlyList<string> Arrivals(Workshop shop) =>
    [
        .. shop.List("arrivals").Select(row =>
        {
            var fields = JsonNode.Parse(row.GetRawText())!.AsObject();
            foreach (var name in OfTheMoment) fields.Remove(name);
            return fields.ToJsonString();
        }),
    ];

    private static string Database(Workshop shop) =>
        File.ReadAllText(shop.ConfigPath).Split("Database=")[1].Split(';')[0];

    private static void Pg(string program, params IReadOnlyList<string> arguments)
    {
        using var ran = Process.Start(new ProcessStartInfo(Path.Combine(PostgresServer.Programs, program),
            ["-h", "127.0.0.1", "-p", PostgresServer.Shared.Port.ToString(CultureInfo.InvariantCulture), "-U", "test", .. arguments])
        {
            RedirectStandardError = true,
        });
        var said = ran?.StandardError.ReadToEnd();
        ran?.WaitForExit();
        Assert.True(ran?.ExitCode == 0, said);
    }

    // Every dump has its own bytes and time, so that each is one arrival and no more.
    private static List<(string Name, string Sha256)> WriteSome(Workshop shop, int from, int count)
    {
        var written = new List<(string Name, string Sha256)>();
        for (var number = from; number < from + count; number++)
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"shares/mill-3/offsets/{number:00000}.nc");
            var text = string.Create(CultureInfo.InvariantCulture,
                $"%\n(DUMP {number})\nG90 G10 L2 P1 X-{300 + number % 7}.{number % 10} Y-205. Z-310.25\n%\n");
            var moment = new DateTime(2026, 3, 2, 7, 0, 0, DateTimeKind.Utc).AddMinutes(7 * number);
            shop.Write(name, moment.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), text);
            written.Add((name, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))));
        }
        return written;
    }

    // What is kept by now, nothing but the record can bring back.
    private static void TakeAway(Workshop shop, List<(string Name, string Sha256)> written, Random random)
    {
        var kept = Kept(shop);
        foreach (var (name, sha256) in written.Where(file => kept.ContainsKey(file.Sha256) && random.Next(3) > 0))
            File.Delete(shop[name]);
    }

    private static void EndsWhole(Workshop shop, List<(string Name, string Sha256)> written, int seed)
    {
        shop.Once();
        var kept = Kept(shop);
        var lost = written.Where(file => kept.GetValueOrDefault(file.Sha256) == 0).ToList();
        var twice = written.Where(file => kept.GetValueOrDefault(file.Sha256) > 1).ToList();
        if (lost.Count + twice.Count > 0)
            Assert.Fail($"seed {seed}: lost {string.Join(", ", lost)}; twice {string.Join(", ", twice)}");
        shop.Run("verify").Exits(0);
        shop.Run("rebuild").Exits(0);
    }

    private static Dictionary<string, int> Kept(Workshop shop)
    {
        var text = File.ReadAllText(shop.ConfigPath).Split("\"Postgres\": \"")[1].Split('"')[0];
        if (PostgresServer.Rows(text, "SELECT to_regclass('arrival')::text")[0] is DBNull) return [];
        return PostgresServer.Rows(text, "SELECT sha256 FROM arrival").Cast<string>().GroupBy(hash => hash)
            .ToDictionary(group => group.Key, group => group.Count(), StringComparer.Ordinal);
    }
}
