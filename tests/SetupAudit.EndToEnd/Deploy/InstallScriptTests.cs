using System.Diagnostics;
using SetupAudit.Support;

namespace SetupAudit.Deploy;

/// <summary>The scripts of deploy/ below a folder of their own: nothing of this machine is touched.</summary>
public sealed class InstallScriptTests : IDisposable
{
    private readonly TempShare _folder = new();

    public InstallScriptTests()
    {
        if (OperatingSystem.IsWindows()) Assert.Skip("these scripts are for Linux");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Installing_twice_is_installing_once_and_keeps_what_was_configured()
    {
        var first = Published("first");
        Install(first);
        Assert.Contains("/var/lib/setupaudit/audit", _folder.Text("etc/setupaudit/shop.json"));
        _folder.Write("etc/setupaudit/shop.json", "{ \"mine\": 1 }");
        _folder.Write("var/lib/setupaudit/audit/record", "kept");

        Install(first);

        Assert.Equal("{ \"mine\": 1 }", _folder.Text("etc/setupaudit/shop.json"));
        Assert.Equal("kept", _folder.Text("var/lib/setupaudit/audit/record"));
        Assert.True(File.Exists(_folder["opt/setupaudit/current/setupaudit"]));
        Assert.True(File.Exists(_folder["etc/systemd/system/setupaudit.service"]));
    }

    [Fact]
    public void The_installed_program_runs_and_finds_no_fault_with_the_configuration_it_was_installed_with()
    {
        Install(Published("first"));

        var ran = Run([_folder["opt/setupaudit/current/setupaudit"], "check", "--config", _folder["etc/setupaudit/shop.json"]]);

        Assert.True(ran.Status == 0, ran.Output);
    }

    [Fact]
    public void An_upgrade_takes_the_place_of_what_ran_and_keeps_the_store()
    {
        Install(Published("first"));
        _folder.Write("var/lib/setupaudit/audit/record", "kept");

        var ran = Upgrade(Published("second"), "exit 0");

        Assert.True(ran.Status == 0, ran.Output);
        Assert.Equal("second", _folder.Text("opt/setupaudit/current/version"));
        Assert.Equal("kept", _folder.Text("var/lib/setupaudit/audit/record"));
        Assert.Equal(["stop", "start"], Calls());
        Assert.False(Directory.Exists(_folder["var/lib/setupaudit.before-upgrade"]));
    }

    [Fact]
    public void A_version_that_does_not_come_up_is_taken_back_with_the_store_as_it_was()
    {
        Install(Published("first"));
        _folder.Write("var/lib/setupaudit/audit/record", "kept");

        // It starts once, spoils the store, and fails; the second start is the old version's.
        var ran = Upgrade(Published("second"), $"""
            if [ "$1" = start ] && [ ! -e "{_folder["failed"]}" ]; then
              touch "{_folder["failed"]}"; echo spoilt >"{_folder["var/lib/setupaudit/audit/record"]}"; exit 1
            fi
            """);

        Assert.True(ran.Status == 1, ran.Output);
        Assert.Equal("first", _folder.Text("opt/setupaudit/current/version"));
        Assert.Equal("kept", _folder.Text("var/lib/setupaudit/audit/record"));
        Assert.Equal(["stop", "start", "stop", "start"], Calls());
    }

    [Fact]
    public void A_version_that_finds_fault_with_the_configuration_never_stops_what_runs()
    {
        Install(Published("first"));
        _folder.Write("etc/setupaudit/shop.json", "{ \"Shop\": {} }");

        var ran = Upgrade(Published("second"), "exit 0");

        Assert.True(ran.Status == 1, ran.Output);
        Assert.Contains("nothing was changed", ran.Output);
        Assert.Equal("first", _folder.Text("opt/setupaudit/current/version"));
        Assert.Empty(Calls());
    }

    [Fact]
    public void Taking_it_away_leaves_the_record_and_the_configuration()
    {
        Install(Published("first"));
        _folder.Write("var/lib/setupaudit/audit/record", "kept");

        Assert.Equal(0, Run([Tool.At("bash"), Repository.At("deploy/uninstall.sh")]).Status);

        Assert.False(Directory.Exists(_folder["opt/setupaudit"]));
        Assert.Equal("kept", _folder.Text("var/lib/setupaudit/audit/record"));
        Assert.True(File.Exists(_folder["etc/setupaudit/shop.json"]));
    }

    [Theory]
    [InlineData("install.sh")]
    [InlineData("upgrade.sh")]
    [InlineData("uninstall.sh")]
    public void Scripts_have_no_fault_that_a_shell_checker_sees(string script)
    {
        var ran = Run([Tool.At("shellcheck"), Repository.At($"deploy/{script}")]);
        Assert.True(ran.Status == 0, ran.Output);
    }

    /// <summary>What publishing gives, in short: a folder with the program, here one that passes on to the built one.</summary>
    private string Published(string version)
    {
        var words = string.Join(' ', BuiltProgram.Executable().Select(word => $"'{word}'"));
        var program = _folder.Write($"published-{version}/setupaudit", $"#!/bin/sh\n# {version}\nexec {words} \"$@\"\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(program, (UnixFileMode)0b111_101_101);
        _folder.Write($"published-{version}/version", version);
        return _folder[$"published-{version}"];
    }

    private void Install(string published)
    {
        var ran = Run([Tool.At("bash"), Repository.At("deploy/install.sh"), published]);
        Assert.True(ran.Status == 0, ran.Output);
    }

    private (int Status, string Output) Upgrade(string published, string onCall)
    {
        var service = _folder.Write("service", $"#!/bin/sh\necho \"$1\" >>\"{_folder["calls"]}\"\n{onCall}\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(service, (UnixFileMode)0b111_101_101);
        return Run([Tool.At("bash"), Repository.At("deploy/upgrade.sh"), published], service);
    }

    private string[] Calls() => File.Exists(_folder["calls"]) ? File.ReadAllLines(_folder["calls"]) : [];

    private (int Status, string Output) Run(string[] words, string service = "")
    {
        var start = new ProcessStartInfo(words[0], words[1..]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["ROOT"] = _folder.Folder;
        start.Environment["SERVICE"] = service;
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{words[0]} did not start");
        var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        var output = process.StandardOutput.ReadToEnd() + errors.Result;
        process.WaitForExit();
        return (process.ExitCode, output);
    }
}
