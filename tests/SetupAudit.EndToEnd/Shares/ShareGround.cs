using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>
/// A folder in which servers run and shares are mounted. Whatever happens to the test, even a SIGKILL, a guard that
/// holds the other end of a pipe then ends every process that was started here and takes every mount away.
/// </summary>
internal sealed class ShareGround : IDisposable
{
    // Reads until the test is gone. A mount is taken away lazily: its server may be dead already.
    private const string Guard = """
        cat >/dev/null
        for file in "$1"/*.pid; do [ -e "$file" ] && kill -KILL -- "-$(cat "$file")"; done
        awk -v below="$1/" 'index($5, below) == 1 { print $5 }' /proc/self/mountinfo | xargs -r -n 1 umount -l
        """;

    // Not below a folder named for the test: a server's sockets lie in it, and their paths must stay short.
    private readonly DirectoryInfo _files = Directory.CreateTempSubdirectory("setupaudit-ground-");
    private readonly Process _guard;

    public ShareGround()
    {
        var start = new ProcessStartInfo(Tool.At("setsid")) { RedirectStandardInput = true, RedirectStandardError = true };
        foreach (var word in new[] { Tool.At("bash"), "-c", Guard, "guard", Folder }) start.ArgumentList.Add(word);
        _guard = Start(start);
    }

    public string Folder => _files.FullName;

    /// <summary>Why no share can be mounted here; null where one can.</summary>
    public static string? Lacks() =>
        !OperatingSystem.IsLinux() ? "shares are mounted through FUSE, which is Linux"
        : !MayMount() ? "only root with CAP_SYS_ADMIN may mount a share here"
        : !File.Exists("/dev/fuse") ? "this machine has no /dev/fuse, so no share can be mounted"
        : null;

    public string Write(string name, string text, UnixFileMode? mode = null)
    {
        var path = Path.Combine(Folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path) ?? Folder);
        File.WriteAllText(path, text);
        if (mode is { } asked && !OperatingSystem.IsWindows()) File.SetUnixFileMode(path, asked);
        return path;
    }

    public string MakeFolder(string name) => _files.CreateSubdirectory(name).FullName;

    /// <summary>A port of the loopback that nobody listens on now.</summary>
    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>
    /// Starts a program in a session of its own (one server signals its whole process group when it ends), its output
    /// in a file.
    /// </summary>
    public int Run(string name, IReadOnlyList<string> command)
    {
        const string Detached = """echo $$ >"$1.pid"; export HOME="$2"; log=$1.log; shift 2; exec "$@" </dev/null >>"$log" 2>&1""";
        var start = new ProcessStartInfo(Tool.At("setsid"));
        string[] words = [Tool.At("bash"), "-c", Detached, "run", Path.Combine(Folder, name), Path.Combine(Folder, "home"), .. command];
        foreach (var word in words) start.ArgumentList.Add(word);
        using var process = Start(start);
        return process.Id;
    }

    /// <summary>Sends a signal to a process and everything it has started.</summary>
    public static void Signal(string signal, int process)
    {
        var all = Tree(process).Select(id => id.ToString(CultureInfo.InvariantCulture));
        using var kill = Start(new ProcessStartInfo(Tool.At("kill"), ["-" + signal, .. all]) { RedirectStandardError = true });
        kill.WaitForExit();
    }

    /// <summary>What the system has mounted at a folder.</summary>
    public static bool IsMounted(string folder) =>
        File.ReadLines("/proc/self/mountinfo").Any(line => line.Contains($" {folder} ", StringComparison.Ordinal));

    /// <summary>Looks again and again until it holds; fails where it does not within the time.</summary>
    public static void Until(Func<bool> holds, TimeSpan within, Func<string> what)
    {
        var since = Stopwatch.GetTimestamp();
        using var never = new ManualResetEventSlim();
        while (!holds())
        {
            if (Stopwatch.GetElapsedTime(since) > within) Assert.Fail($"not within {within.TotalSeconds:0} s: {what()}");
            never.Wait(TimeSpan.FromMilliseconds(20), TestContext.Current.CancellationToken);
        }
    }

    public void Dispose()
    {
        _guard.StandardInput.Close();
        _guard.WaitForExit();
        _guard.Dispose();
        if (Environment.GetEnvironmentVariable("SETUPAUDIT_KEEP") != "1") _files.Delete(recursive: true);
    }

    // capabilities(7): CAP_SYS_ADMIN is number 21. A container may have the device and not the right to use it.
    private static bool MayMount() => File.ReadLines("/proc/self/status")
        .Where(line => line.StartsWith("CapEff:", StringComparison.Ordinal))
        .Any(line => (Convert.ToUInt64(line["CapEff:".Length..].Trim(), 16) & (1UL << 21)) != 0);

    private static Process Start(ProcessStartInfo start) =>
        Process.Start(start) ?? throw new InvalidOperationException($"{start.FileName} did not start");

    private static List<int> Tree(int root)
    {
        var parents = Directory.EnumerateDirectories("/proc").Select(folder => Path.GetFileName(folder))
            .Where(name => int.TryParse(name, CultureInfo.InvariantCulture, out _))
            .Select(name => (Id: int.Parse(name, CultureInfo.InvariantCulture), Parent: ParentOf(name)))
            .ToLookup(pair => pair.Parent, pair => pair.Id);
        var tree = new List<int> { root };
        for (var next = 0; next < tree.Count; next++) tree.AddRange(parents[tree[next]]);
        return tree;
    }

    // proc(5): the fourth field of stat; the second, a name in parentheses, may hold anything.
    private static int ParentOf(string process)
    {
        try
        {
            var stat = File.ReadAllText($"/proc/{process}/stat");
            return int.Parse(stat[(stat.LastIndexOf(')') + 2)..].Split(' ')[1], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0; // It ended meanwhile.
        }
    }
}
