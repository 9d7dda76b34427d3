using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using SetupAudit.Shop;

namespace SetupAudit.Support;

/// <summary>A real sshd of this test's own on a port of the loopback address: killed, started again, frozen.</summary>
internal sealed class OwnSshServer : IDisposable
{
    private const string Reader = "share-reader";
    private const string Password = "made up: no account has it";
    private const string OwnUsers =
        "mount --bind passwd /etc/passwd && mount --bind shadow /etc/shadow && exec \"$@\"";

    private readonly TempShare _home = new();
    private readonly int _port = FreePort();
    private readonly bool _takesPassword;
    private Process? _process;

    /// <param name="takesPassword">
    /// It also knows a user that proves itself by a password. Only root can have that, and only for this server: the
    /// lists of users that it reads are its own, laid over the system's in a mount namespace that ends with it.
    /// </param>
    public OwnSshServer(bool takesPassword = false)
    {
        _takesPassword = takesPassword;
        MakeKey("host");
        MakeKey("user");
        MakeKey("other-host");
        if (Environment.IsPrivilegedProcess) Directory.CreateDirectory("/run/sshd");
        _home.Write("wrong-password", "no such secret\n");
        _home.Write("sshd.conf", $"""
            ListenAddress 127.0.0.1:{_port.ToString(CultureInfo.InvariantCulture)}
            HostKey {_home["host"]}
            AuthorizedKeysFile {_home["user.pub"]}
            StrictModes no
            UsePAM no
            PermitRootLogin yes
            PasswordAuthentication yes
            PidFile none
            Subsystem sftp internal-sftp
            """);
        Directory.CreateDirectory(_home["share"]);
        if (takesPassword) KnowReader();
        Start();
    }

    /// <summary>The folder that it serves; names below it are the test's.</summary>
    public TempShare Home => _home;

    public string Folder => _home["share"];

    public SftpConfig Config => new("127.0.0.1", _port, Environment.UserName, Folder, Fingerprint("host"))
    {
        FullFolder = FullFolder,
        KeyFile = _home["user"],
    };

    /// <summary>As the user with the password; only where the server takes one.</summary>
    public SftpConfig WithPassword => Config with
    {
        User = Reader,
        KeyFile = null,
        PasswordFile = _home["password"],
    };

    public SftpConfig WithWrongHostKey => Config with { HostKey = Fingerprint("other-host") };

    public SftpConfig WithWrongPassword => Config with { KeyFile = null, PasswordFile = _home["wrong-password"] };

    public string FullFolder => string.Create(
        CultureInfo.InvariantCulture, $"sftp://{Environment.UserName}@127.0.0.1:{_port}{Folder}");

    public void Start()
    {
        string[] sshd = [Sshd(), "-D", "-e", "-f", _home["sshd.conf"]];
        var start = _takesPassword
            ? new ProcessStartInfo(Tool.At("unshare"), ["--mount", "--propagation", "private", "sh", "-c", OwnUsers, "sh", .. sshd])
            : new ProcessStartInfo(sshd[0], sshd[1..]);
        start.RedirectStandardError = true;
        start.WorkingDirectory = _home.Folder;
        _process = Process.Start(start) ?? throw new InvalidOperationException("sshd did not start");
        using var listening = new ManualResetEventSlim();
        var told = "";
        _process.ErrorDataReceived += (_, line) =>
        {
            told += line.Data + "\n";
            if (line.Data is null || line.Data.Contains("Server listening", StringComparison.Ordinal)) Set(listening);
        };
        _process.BeginErrorReadLine();
        listening.Wait(TestContext.Current.CancellationToken);
        if (_process.HasExited) Assert.Skip("sshd does not run here: " + told);
    }

    /// <summary>It ends at once, with the sessions it serves.</summary>
    public void Kill()
    {
        _process?.Kill(entireProcessTree: true);
        _process?.WaitForExit();
    }

    /// <summary>It answers nothing more, as behind a pulled cable; the sessions too.</summary>
    public void Freeze() => Signal("-STOP");

    public void Thaw() => Signal("-CONT");

    public void Dispose()
    {
        if (_process is { HasExited: false })
        {
            Thaw();
            Kill();
        }
        _process?.Dispose();
        _home.Dispose();
    }

    private void KnowReader()
    {
        if (OperatingSystem.IsWindows() || !Environment.IsPrivilegedProcess)
            Assert.Skip("a server of one's own that takes a password needs root: it must read a list of users");
        File.WriteAllText(_home["passwd"], $"{File.ReadAllText("/etc/passwd")}{Reader}:x:0:0::/:/bin/sh\n");
        var hash = Run("openssl", "passwd", "-6", Password).Trim();
        File.WriteAllText(_home["shadow"], $"{File.ReadAllText("/etc/shadow")}{Reader}:{hash}:19000:0:99999:7:::\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(_home["shadow"], UnixFileMode.UserRead | UnixFileMode.UserWrite);
        _home.Write("password", Password + "\nnot this line\n");
    }

    private static void Set(ManualResetEventSlim listening)
    {
        try
        {
            listening.Set();
        }
        catch (ObjectDisposedException)
        {
            // It ended, long after it was waited for.
        }
    }

    private static string Sshd()
    {
        foreach (var path in (string[])["/usr/sbin/sshd", "/usr/bin/sshd"])
            if (File.Exists(path)) return path;
        Assert.Skip("sshd is not installed here; tests/run.sh names the package that brings it");
        return "";
    }

    private void Signal(string signal)
    {
        if (_process is not { HasExited: false } process) return;
        string[] all = [.. Below(process.Id).Select(id => id.ToString(CultureInfo.InvariantCulture))];
        using var kill = Process.Start(Tool.At("kill"), [signal, .. all]);
        kill.WaitForExit();
    }

    private static IEnumerable<int> Below(int parent)
    {
        yield return parent;
        foreach (var folder in Directory.GetDirectories("/proc").Where(name => int.TryParse(Path.GetFileName(name), out _)))
        {
            var stat = Path.Combine(folder, "stat");
            string text;
            try
            {
                text = File.ReadAllText(stat);
            }
            catch (IOException)
            {
                continue; // it ended meanwhile
            }
            // pid (name) state parent: the name may hold anything.
            var fields = text[(text.LastIndexOf(')') + 2)..].Split(' ');
            if (fields[1] != parent.ToString(CultureInfo.InvariantCulture)) continue;
            foreach (var below in Below(int.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture))) yield return below;
        }
    }

    private void MakeKey(string name) => Run("ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", _home[name]);

    private string Fingerprint(string name) => Run("ssh-keygen", "-l", "-E", "sha256", "-f", _home[name + ".pub"]).Split(' ')[1];

    private static string Run(string tool, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(Tool.At(tool), arguments) { RedirectStandardOutput = true })
            ?? throw new InvalidOperationException($"{tool} did not start");
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return output;
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
