using System.Diagnostics;
using System.Net.Sockets;
using System.Text;
using SetupAudit.Support;

namespace SetupAudit.Deploy;

/// <summary>The unit file by systemd's own judgement, and what the service tells a service manager (sd_notify(3)).</summary>
public sealed class SystemdTests
{
    private const string OneMill = """
        {
          "Shop": { "Name": "made up", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [ { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] } },
          "Web": { "Url": "http://127.0.0.1:0" }
        }
        """;

    [Fact]
    public void It_tells_that_it_is_ready_that_it_lives_and_that_it_stops()
    {
        if (!OperatingSystem.IsLinux()) Assert.Skip("systemd is of Linux");
        using var shop = Workshop.With(OneMill);
        using var manager = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
        manager.Bind(new UnixDomainSocketEndPoint(shop["notify"]));
        manager.ReceiveTimeout = 60_000;
        using var running = BuiltProgram.Start(shop.Folder, [], new Dictionary<string, string>
        {
            ["NOTIFY_SOCKET"] = shop["notify"],
            ["WATCHDOG_USEC"] = "900000",
        }, ["run", "--config", shop.ConfigPath]);

        var told = new List<string>();
        while (!told.Contains("READY=1") || told.Count(one => one == "WATCHDOG=1") < 3) told.AddRange(Receive(manager));
        running.Stop().Exits(0);
        while (!told.Contains("STOPPING=1")) told.AddRange(Receive(manager));
    }

    [Fact]
    public void Where_no_service_manager_started_it_nothing_is_told()
    {
        using var shop = Workshop.With(OneMill);
        using var running = shop.Start("run");
        running.WaitFor("Listening on");
        running.WaitFor("Watching 1 folders");
        running.Stop().Exits(0);
        Assert.DoesNotContain("systemd", running.Written());
    }

    [Fact]
    public void The_unit_file_has_no_fault_that_systemd_sees()
    {
        using var folder = new TempShare();
        var unit = folder.Write("setupaudit.service", Unit().Replace("/opt/setupaudit/current/setupaudit", "/bin/true"));

        var (status, output) = Run(Tool.At("systemd-analyze"), "verify", unit);

        Assert.True(status == 0, output);
        Assert.DoesNotContain("setupaudit.service:", output);
    }

    [Fact]
    public void The_unit_file_shuts_out_what_the_service_does_not_need()
    {
        using var folder = new TempShare();
        var unit = folder.Write("setupaudit.service", Unit());

        // The exposure in tenths, from 0 (none) to 100; a service without any of it has 96.
        var (status, output) = Run(Tool.At("systemd-analyze"), "security", "--offline=true", "--threshold=20", unit);

        Assert.True(status == 0, output);
    }

    [Theory]
    [InlineData("Type=notify")]
    [InlineData("NoNewPrivileges=true")]
    [InlineData("ProtectSystem=strict")]
    [InlineData("StateDirectory=setupaudit")]
    [InlineData("WatchdogSec=3min")]
    [InlineData("User=setupaudit")]
    [InlineData("MemoryMax=1G")]
    [InlineData("ExecReload=/bin/kill -HUP $MAINPID")]
    public void The_unit_file_keeps_what_operations_promise(string line) => Assert.Contains(line, Unit().Split('\n'));

    [Fact]
    public void It_runs_as_another_user_under_the_limits_of_the_unit_and_writes_only_its_store()
    {
        if (!OperatingSystem.IsLinux() || !Environment.IsPrivilegedProcess) Assert.Skip("only root may take another user");
        using var shop = Workshop.With(OneMill);
        File.WriteAllText(shop["offsets/a.nc"], "%\nG10 L2 P1 X-1. Y-2. Z-3.\n%\n");
        Directory.CreateDirectory(shop["audit"]);
        using (var give = Process.Start(Tool.At("chown"), ["65534:65534", shop["audit"]])) give.WaitForExit();
        string[] limited =
        [
            Tool.At("prlimit"), "--nofile=16384", "--core=0", Tool.At("setpriv"), "--reuid=65534", "--regid=65534",
            "--clear-groups", "--no-new-privs", "--inh-caps=-all", "--bounding-set=-all",
        ];
        using var running = BuiltProgram.Start(shop.Folder, limited,
            new Dictionary<string, string> { ["HOME"] = "/nonexistent", ["DOTNET_CLI_HOME"] = "/nonexistent" },
            ["run", "--config", shop.ConfigPath]);

        running.WaitFor("Read 1 arrivals of mill-3");
        running.Stop().Exits(0);

        Assert.Equal(["a.nc"], Directory.GetFiles(shop["offsets"]).Select(Path.GetFileName));
        Assert.Single(shop.List("arrivals"));
    }

    private static string Unit() => File.ReadAllText(Repository.At("deploy/setupaudit.service"));

    private static string[] Receive(Socket manager)
    {
        var buffer = new byte[4096];
        return Encoding.UTF8.GetString(buffer, 0, manager.Receive(buffer)).Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    private static (int Status, string Output) Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["SYSTEMD_PAGER"] = "cat";
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start");
        var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        var output = process.StandardOutput.ReadToEnd() + errors.Result;
        process.WaitForExit();
        return (process.ExitCode, output);
    }
}
