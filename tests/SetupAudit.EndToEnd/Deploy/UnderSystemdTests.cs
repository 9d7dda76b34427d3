using System.Diagnostics;
using SetupAudit.Support;

namespace SetupAudit.Deploy;

/// <summary>
/// The program as it is installed and run by a real systemd, under every limit of its unit: what a filter of system
/// calls forbids shows only there. The systemd is one of its own in a copy of this system that is thrown away.
/// </summary>
public sealed class UnderSystemdTests
{
    [Fact]
    public void The_unit_starts_takes_in_reloads_and_stops_under_all_its_limits()
    {
        var told = Told();

        Assert.Equal(["install: 0", "start: 0", "reload: 0", "stop: 0"], told.Where(line => line.EndsWith(": 0", StringComparison.Ordinal)));
        Assert.Contains("Result=success", told);
        Assert.Contains("NRestarts=0", told);
        Assert.Contains(told, line => line.Contains("Read 1 arrivals of mill-3", StringComparison.Ordinal));
        Assert.Contains(told, line => line.Contains("has not changed", StringComparison.Ordinal));
        Assert.Contains("user: setupaudit", told);
        Assert.Contains("NoNewPrivs: 1", told);
        Assert.Contains("Seccomp: 2", told);
        Assert.Contains("CapEff: 0000000000000000", told);
        Assert.Contains("CapBnd: 0000000000000000", told);
        Assert.Equal(["may write: /var/lib/setupaudit", "may write: /tmp"], told.Where(line => line.StartsWith("may write", StringComparison.Ordinal)));
    }

    private static string[] Told()
    {
        if (!OperatingSystem.IsLinux() || !Environment.IsPrivilegedProcess) Assert.Skip("only root may boot a systemd");
        if (!Directory.Exists("/usr/share/dotnet") && !Directory.Exists("/usr/lib/dotnet"))
            Assert.Skip("the runtime is not installed where a service finds it");
        Tool.At("systemd-nspawn");
        using var folder = new TempShare();
        var program = BuiltProgram.Executable()[^1];
        string[] arguments =
        [
            "--mount", "--propagation", "private", Tool.At("bash"),
            Repository.At("tests/SetupAudit.EndToEnd/Deploy/under-systemd.sh"),
            Path.GetDirectoryName(Path.GetFullPath(program)) ?? "", Repository.At("deploy"), folder.Folder,
        ];
        var start = new ProcessStartInfo(Tool.At("unshare"), arguments) { RedirectStandardError = true };
        using var process = Process.Start(start) ?? throw new InvalidOperationException("unshare did not start");
        var errors = process.StandardError.ReadToEnd();
        process.WaitForExit();
        if (!File.Exists(folder["told"]))
            Assert.Skip($"no systemd boots here: {errors} {(File.Exists(folder["log"]) ? folder.Text("log") : "")}");
        var told = File.ReadAllLines(folder["told"]);
        Assert.True(told.Contains("done"), string.Join('\n', told));
        return told;
    }
}
