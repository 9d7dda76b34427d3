using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace SetupAudit.Support;

/// <summary>
/// A PostgreSQL server of this test run's own on a port of the loopback address: started once, a database a test. It
/// ends with the process that started it, however that ends.
/// </summary>
public sealed class PostgresServer : IDisposable
{
    private const string Account = "postgres";

    // What waits for its input to end stops the server when the test's process is gone, and clears up after it.
    private const string Guarded = "\"$@\" >>\"$FOLDER/log\" 2>&1 & server=$!; read -r word; kill -QUIT $server; "
        + "wait $server; [ \"$word\" = stop ] || rm -rf \"$FOLDER\"";

    private static readonly Lazy<PostgresServer> One = new(() => new PostgresServer());
    private static int _count;

    private readonly string _folder;
    private readonly int _port = FreePort();
    private Process? _process;

    public PostgresServer()
    {
        _folder = Path.Combine(Path.GetTempPath(), string.Create(CultureInfo.InvariantCulture,
            $"setupaudit-postgres-{Environment.ProcessId}-{Interlocked.Increment(ref _count)}"));
        Directory.CreateDirectory(_folder);
        if (Environment.IsPrivilegedProcess) Run("chown", Account, _folder);
        Run([.. AsServer(), Program("initdb"), "-D", Data, "-A", "trust", "-U", "test", "--locale=C.UTF-8", "-E",
            "UTF8", "--no-sync"]);
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Dispose();
        Start();
    }

    /// <summary>The one that tests share which do not stop it. Skips the test where the computer has no server.</summary>
    public static PostgresServer Shared
    {
        get
        {
            Skip();
            return One.Value;
        }
    }

    /// <summary>Skips the test where the computer has no server.</summary>
    public static void Skip() => Program("initdb");

    public int Port => _port;

    /// <summary>The folder of the programs that the server comes with.</summary>
    public static string Programs => Path.GetDirectoryName(Program("initdb")) ?? "";

    private string Data => Path.Combine(_folder, "data");

    /// <summary>A new database, and the text that connects with it as the server's owner.</summary>
    public string NewDatabase(string options = "")
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"shop_{Interlocked.Increment(ref _count)}");
        Run(Text("postgres"), $"CREATE DATABASE {name} {options}");
        return Text(name);
    }

    public string Text(string database, string user = "test") => string.Create(CultureInfo.InvariantCulture,
        $"Host=127.0.0.1;Port={_port};Database={database};Username={user}");

    /// <summary>Runs statements as someone could who has the server in hand.</summary>
    public static void Run(string text, string sql)
    {
        using var connection = new NpgsqlConnection(text);
        connection.Open();
        using var command = new NpgsqlCommand(sql, connection);
        command.ExecuteNonQuery();
    }

    /// <summary>The first column of every row.</summary>
    public static IReadOnlyList<object> Rows(string text, string sql)
    {
        using var connection = new NpgsqlConnection(text);
        connection.Open();
        using var command = new NpgsqlCommand(sql, connection);
        using var reader = command.ExecuteReader();
        var rows = new List<object>();
        while (reader.Read()) rows.Add(reader.GetValue(0));
        return rows;
    }

    /// <summary>Adds a line before those that say who may connect how.</summary>
    public void Allow(string line)
    {
        var file = Path.Combine(Data, "pg_hba.conf");
        File.WriteAllText(file, line + "\n" + File.ReadAllText(file));
        Run(Text("postgres"), "SELECT pg_reload_conf()");
    }

    /// <summary>Starts it, with settings such as "fsync=off".</summary>
    public void Start(params IReadOnlyList<string> settings)
    {
        string[] server = [.. AsServer(), Program("postgres"), "-D", Data, "-p",
            _port.ToString(CultureInfo.InvariantCulture), "-c", "listen_addresses=127.0.0.1", "-c",
            $"unix_socket_directories={_folder}", .. settings.SelectMany(setting => new[] { "-c", setting })];
        var start = new ProcessStartInfo("sh", ["-c", Guarded, "sh", .. server]) { RedirectStandardInput = true };
        start.Environment["FOLDER"] = _folder;
        _process = Process.Start(start) ?? throw new InvalidOperationException("the server did not start");
        var until = Stopwatch.StartNew();
        while (!IsReady())
            if (until.Elapsed > TimeSpan.FromSeconds(60))
                Assert.Fail($"the server does not answer:\n{File.ReadAllText(Path.Combine(_folder, "log"))}");
    }

    /// <summary>Stops it as a power cut would: nothing is finished, and the next start recovers.</summary>
    public void StopNow()
    {
        if (_process is null) return;
        _process.StandardInput.WriteLine("stop");
        _process.StandardInput.Close();
        _process.WaitForExit();
        _process.Dispose();
        _process = null;
        NpgsqlConnection.ClearAllPools();
    }

    public void Dispose()
    {
        StopNow();
        if (Directory.Exists(_folder)) Directory.Delete(_folder, recursive: true);
    }

    private static string Program(string name)
    {
        var found = Directory.Exists("/usr/lib/postgresql")
            ? Directory.EnumerateDirectories("/usr/lib/postgresql").Select(folder => Path.Combine(folder, "bin", name))
                .Where(File.Exists).Order(StringComparer.Ordinal).LastOrDefault()
            : null;
        return found ?? Tool.At(name);
    }

    // The server refuses to run as root. What runs it must be in its place, so that it gets the signal.
    private static string[] AsServer() => Environment.IsPrivilegedProcess
        ? ["setpriv", $"--reuid={Account}", $"--regid={Account}", "--clear-groups"]
        : [];

    private bool IsReady()
    {
        try
        {
            Run(Text("postgres"), "SELECT 1");
            return true;
        }
        catch (NpgsqlException)
        {
            return false;
        }
    }

    private static void Run(params IReadOnlyList<string> command)
    {
        using var process = Process.Start(new ProcessStartInfo(command[0], command.Skip(1))
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = "/",
        });
        var said = process?.StandardError.ReadToEnd();
        process?.WaitForExit();
        if (process?.ExitCode != 0) Assert.Fail($"{string.Join(' ', command)}:\n{said}");
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
