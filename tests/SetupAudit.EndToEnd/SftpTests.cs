using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>The built program on folders that a real sshd serves, without a mount.</summary>
public sealed class SftpTests : IDisposable
{
    private const string Program = "%\nO2041 (COVER)\nG90 G54\nG0 X0. Y0.\nG1 Z-1. F100.\nX10.\nM30\n%\n";
    private const string Cycle = "2026-03-02 07:00:00 START O2041\n2026-03-02 07:05:00 END O2041\n";

    private readonly OwnSshServer _server = new();

    public void Dispose() => _server.Dispose();

    [Fact]
    public void What_lies_on_the_server_comes_to_findings_as_from_a_mount()
    {
        Lay(_server);
        using var shop = Workshop.With(Config(_server.Config));

        shop.Once();

        Assert.Contains("axis-not-set", shop.Rules());
        var files = shop.List("arrivals").Select(row => row.Text("file")).ToList();
        Assert.Equal(4, files.Count);
        Assert.All(files, file => Assert.StartsWith("sftp://", file, StringComparison.Ordinal));
        var evidence = shop.List("findings").Single(row => row.Text("rule") == "axis-not-set").Items("evidence");
        Assert.Contains(evidence, line => line.Text("file")?.EndsWith("/offsets/b.nc", StringComparison.Ordinal) == true);
        shop.Run("verify").Exits(0);
        shop.Once();
        Assert.Equal(4, shop.List("arrivals").Count);
    }

    [Fact]
    public void A_password_opens_the_folder_and_is_written_nowhere()
    {
        using var server = new OwnSshServer(takesPassword: true);
        Lay(server);
        using var shop = Workshop.With(Config(server.WithPassword));

        var ran = shop.Run("once").Exits(0);

        Assert.Equal(4, shop.List("arrivals").Count);
        Assert.DoesNotContain("made up: no account", ran.Output + ran.Errors, StringComparison.Ordinal);
        foreach (var file in Directory.EnumerateFiles(shop["audit"], "*", SearchOption.AllDirectories))
            Assert.DoesNotContain("made up: no account", File.ReadAllText(file), StringComparison.Ordinal);
    }

    [Fact]
    public void A_server_that_is_gone_is_said_and_what_was_taken_in_stays()
    {
        Lay(_server);
        using var shop = Workshop.With(Config(_server.Config));
        shop.Once();
        _server.Kill();

        var ran = shop.Run("once").Exits(1);

        Assert.Contains("the server", ran.Errors, StringComparison.Ordinal);
        Assert.Equal(4, shop.List("arrivals").Count);
    }

    // X and Y are set, Z is not.
    private static void Lay(OwnSshServer server)
    {
        server.Home.Write("share/programs/O2041.nc", Program, "2026-03-02T06:00:00Z");
        server.Home.Write("share/prints/a.log", Cycle, "2026-03-02T07:05:00Z");
        server.Home.Write("share/offsets/a.nc", Dump("-1.000", "-2.000"), "2026-03-02T07:06:00Z");
        server.Home.Write("share/offsets/b.nc", Dump("-11.000", "-12.000"), "2026-03-02T08:00:00Z");
    }

    private static string Dump(string x, string y) => $"%\nG10 L2 P1 X{x} Y{y} Z-3.000\n%\n";

    private static string Config(SftpConfig server) => $$"""
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Etc/UTC" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm", "Watch": [
            {{Watch(server, "offsets", "*.nc", "data-setting")}},
            {{Watch(server, "prints", "*.log", "print-out\", \"Lines\": \"prints")}},
            {{Watch(server, "programs", "*.nc", "program")}} ] } },
          "PrintOuts": { "prints": { "Time": "yyyy-MM-dd HH:mm:ss", "Lines": [
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) START (?<program>O\\d+)", "Means": "cycle-start" },
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) END (?<program>O\\d+)", "Means": "cycle-end" } ] } }
        }
        """;

    private static string Watch(SftpConfig server, string folder, string files, string read)
    {
        var secret = server.PasswordFile is { } password ? $"\"PasswordFile\": \"{password}\"" : $"\"KeyFile\": \"{server.KeyFile}\"";
        return FormattableString.Invariant(
            $"{{ \"Folder\": \"sftp://{server.User}@{server.Host}:{server.Port}{server.Path}/{folder}\", \"Files\": \"{files}\", ")
            + $"\"Read\": \"{read}\", \"HostKey\": \"{server.HostKey}\", {secret} }}";
    }
}
