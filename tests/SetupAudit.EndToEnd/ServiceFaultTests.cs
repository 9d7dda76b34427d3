using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>What keeps the service from starting, or stops it, as the person at the terminal sees it.</summary>
public sealed partial class ServiceFaultTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    [Fact]
    public void A_taken_port_is_one_sentence_that_names_the_key_and_the_address()
    {
        using var holder = new TcpListener(IPAddress.Loopback, 0);
        holder.Start();
        var url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{((IPEndPoint)holder.LocalEndpoint).Port}");
        using var shop = At(url);

        using var running = shop.Start("run");
        var ran = running.End(Patience).Exits(1);

        Assert.Contains($"Web.Url: cannot listen on {url}: another program on this computer listens there", ran.Errors,
            StringComparison.Ordinal);
        NoTrace(ran);
        // The audit beside it stopped as it should: the store is free and holds.
        shop.Once();
    }

    [Fact]
    public void A_store_that_another_service_writes_is_one_sentence()
    {
        using var shop = At("http://127.0.0.1:0");
        using var first = shop.Start("run");
        first.WaitFor("Watching");

        using var second = shop.Start("run");
        var ran = second.End(Patience).Exits(2);

        Assert.Contains("Another setupaudit writes the store in ", ran.Errors, StringComparison.Ordinal);
        Assert.Equal(ran.Errors.IndexOf("Another setupaudit", StringComparison.Ordinal),
            ran.Errors.LastIndexOf("Another setupaudit", StringComparison.Ordinal));
        NoTrace(ran);
        first.Stop().Exits(0);
    }

    [Fact]
    public void A_store_that_the_account_may_not_write_is_one_sentence_and_the_exit_status_is_not_0()
    {
        Assert.SkipUnless(Environment.UserName == "root", "only root can start the service as another account");
        using var shop = At("http://127.0.0.1:0");
        Do(Tool.At("chmod"), "755", shop.Folder);

        using var running = AsNobody(shop, "run");
        var ran = running.End(Patience).Exits(2);

        Assert.Contains("may not write the store in ", ran.Errors, StringComparison.Ordinal);
        NoTrace(ran);
    }

    [Fact]
    public void Root_makes_nothing_in_a_store_of_another_account_so_that_its_service_goes_on()
    {
        Assert.SkipUnless(Environment.UserName == "root", "only root can give files to another account");
        using var shop = At("http://127.0.0.1:0");
        shop.Once();
        Do(Tool.At("chown"), "-R", "65534", shop["audit"]);
        Do(Tool.At("chmod"), "755", shop.Folder);
        File.WriteAllText(shop["password.txt"], "made up and long enough\n");

        foreach (var arguments in (string[][])
        [
            ["once"],
            ["people", "add", "Ann Reed", "--role", "administrator", "--password-file", shop["password.txt"]],
        ])
            Assert.Contains("sudo -u ", shop.Run(arguments).Exits(2).Errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(shop["audit/inbox"]));
        using var running = AsNobody(shop, "run");
        running.WaitFor("Watching");
        running.Stop().Exits(0);
    }

    [Fact]
    public void What_another_account_laid_into_the_inbox_does_not_stop_the_service()
    {
        Assert.SkipUnless(Environment.UserName == "root", "only root can give files to another account");
        using var shop = At("http://127.0.0.1:0");
        shop.Once();
        Do(Tool.At("chown"), "-R", "65534", shop["audit"]);
        Do(Tool.At("chmod"), "755", shop.Folder);
        Do(Tool.At("mkdir"), "-m", "700", shop["audit/inbox"]);

        using var running = AsNobody(shop, "run");
        running.WaitFor("What is handed over cannot be taken in");
        shop.Write("shares/mill-3/offsets/dump.nc", "2026-03-02T07:00:00Z", "%\nG10 L2 P1 X-310.2 Y-205. Z-300.\n%\n");
        running.WaitFor("Read 1 arrivals of mill-3");
        running.Stop().Exits(0);
    }

    [Fact]
    public async Task A_full_disk_is_told_by_the_log_by_health_and_by_the_list_of_machines_without_a_trace()
    {
        Assert.SkipUnless(Environment.UserName == "root", "only root can mount a small disk");
        using var shop = At("http://127.0.0.1:0");
        Directory.CreateDirectory(shop["audit"]);
        Do(Tool.At("mount"), "-t", "tmpfs", "-o", "size=4m", "tmpfs", shop["audit"]);
        try
        {
            using var running = shop.Start("run");
            running.WaitFor("Watching");
            await WaitForAsync(() => File.Exists(shop["audit/standing.json"]));
            Fill(shop["audit/other"]);
            shop.Write("shares/mill-3/offsets/dump.nc", "2026-03-02T07:00:00Z",
                Convert.ToBase64String(RandomNumberGenerator.GetBytes(600_000), Base64FormattingOptions.InsertLineBreaks));
            running.WaitFor("The store failed, and nothing is taken in until it is opened again in 5 s: Writing to the store failed");

            var health = await HealthAsync(running);
            Assert.Equal("failing", health.Text("status"));
            Assert.StartsWith("The record is not open, so nothing is taken in now; it is tried again. Writing to the store failed",
                health.Text("fault"), StringComparison.Ordinal);
            await WaitForAsync(() => shop.Run("list", "machines").Output
                .Contains("mill-3: nothing is taken in now: Writing to the store failed", StringComparison.Ordinal));
            File.Delete(shop["audit/other"]);
            running.WaitFor("Read 1 arrivals of mill-3");
            Assert.Null((await HealthAsync(running)).Text("fault"));
            NoTrace(running.Stop().Exits(0));
        }
        finally
        {
            Do(Tool.At("umount"), shop["audit"]);
        }
    }

    // To the last byte: a write that finds no more room ends it.
    private static void Fill(string path)
    {
        using var file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        var bytes = new byte[4096];
        try
        {
            while (true) file.Write(bytes);
        }
        catch (IOException full)
        {
            Assert.Contains("space", full.Message, StringComparison.Ordinal);
        }
    }

    private static async Task WaitForAsync(Func<bool> holds)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(200));
        for (var left = 300; !holds(); left--)
        {
            Assert.True(left > 0, "it never came");
            await timer.WaitForNextTickAsync(TestContext.Current.CancellationToken);
        }
    }

    private static async Task<JsonElement> HealthAsync(RunningProgram service)
    {
        using var client = new HttpClient();
        using var answer = await client.GetAsync(
            new Uri(Http.Match(service.Written()).Value + "/health"), TestContext.Current.CancellationToken);
        using var document = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        return document.RootElement.Clone();
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+(?!\d)", RegexOptions.RightToLeft)]
    private static partial Regex Http { get; }

    private static Workshop At(string url) => Workshop.With(Workshop.OneMill.Replace(
        "\"PrintOuts\"", $"\"Web\": {{ \"Url\": \"{url}\" }},\n  \"PrintOuts\"", StringComparison.Ordinal));

    private static RunningProgram AsNobody(Workshop shop, string command) => BuiltProgram.Start(
        shop.Folder, [Tool.At("setpriv"), "--reuid=65534", "--regid=65534", "--clear-groups"],
        new Dictionary<string, string> { ["HOME"] = shop.Folder }, [command, "--config", shop.ConfigPath]);

    private static void Do(string tool, params IReadOnlyList<string> arguments)
    {
        using var process = Process.Start(tool, arguments);
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }

    private static void NoTrace(Ran ran) => Assert.DoesNotContain("   at ", ran.Errors, StringComparison.Ordinal);
}
