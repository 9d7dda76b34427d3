using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>A new configuration takes over in the running service, and a bad one does not.</summary>
public sealed partial class ReloadTests
{
    private const string OneMill = """
        {
          "Shop": { "Name": "made up 0", "TimeZone": "Europe/London", "Poll": "00:00:00.1", "Settle": "00:00:00.1" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm", "Watch": [
            { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" },
            { "Folder": "prints", "Files": "*.log", "Read": "print-out", "Lines": "prints" } ] } },
          "PrintOuts": { "prints": { "Lines": [ { "Match": "SIZE (?<feature>\\S+) (?<size>\\S+)", "Means": "measured" } ] } },
          "Web": { "Url": "http://127.0.0.1:0" }
        }
        """;

    [Fact]
    public void Files_written_during_twenty_reloads_all_arrive_exactly_once()
    {
        using var shop = Workshop.With(OneMill);
        using var running = shop.Start("run");
        running.WaitFor("Watching 2 folders");
        for (var round = 1; round <= 20; round++)
        {
            // Two writes on either side of the reload, and one while the watchers stop and start again.
            Dump(shop, $"{round}-a", round);
            Print(shop, round * 2);
            shop.Configure(OneMill.Replace("made up 0", $"made up {round}"));
            HangUp(running);
            Dump(shop, $"{round}-b", 100 + round);
            Print(shop, round * 2 + 1);
            running.WaitFor(string.Create(CultureInfo.InvariantCulture, $"takes over: 1 machines, SHA-256 {Sha(shop)}"));
            Dump(shop, $"{round}-c", 200 + round);
        }
        WaitUntil(shop, rows => rows.Count(row => Text(row, "file").StartsWith("offsets/", StringComparison.Ordinal)) >= 60
            && Printed(rows) >= 40);
        Assert.False(running.HasEnded);
        running.Stop().Exits(0);

        var arrivals = shop.List("arrivals");
        // The next run finds nothing that was left, and derives what the last reload or the stop cut off.
        shop.Once();
        Assert.Equal(arrivals.Count, shop.List("arrivals").Count);
        var files = arrivals.Select(row => Text(row, "file")).Where(file => file.StartsWith("offsets/", StringComparison.Ordinal)).ToList();
        Assert.Equal(60, files.Count);
        Assert.Equal(60, files.Distinct().Count());
        var measured = shop.List("measurements").Select(row => Text(row, "feature")).ToList();
        Assert.Equal(Enumerable.Range(2, 40).Select(Bore).Order(), measured.Order());
    }

    [Fact]
    public void A_bad_configuration_is_refused_with_every_fault_and_the_one_before_goes_on()
    {
        using var shop = Workshop.With(OneMill);
        using var running = shop.Start("run");
        running.WaitFor("Watching 2 folders");
        running.WaitFor("Listening on");
        var address = Address(running);

        shop.Configure(OneMill.Replace("\"Machines\": {", "\"Machines\": "));
        HangUp(running);
        running.WaitFor("Configuration refused: ");
        running.WaitFor("is not JSON from here on");

        shop.Configure(OneMill.Replace("\"Units\": \"mm\"", "\"Units\": \"mm\", \"Wacth\": 1").Replace("\"Lines\": \"prints\"", "\"Lines\": \"nobody\""));
        HangUp(running);
        running.WaitFor("Machines.mill-3.Wacth");
        running.WaitFor("\"nobody\" is none of the PrintOuts");
        running.WaitFor("is refused; the one before stays in force");

        using var health = Health(address);
        Assert.Equal("degraded", Text(health.RootElement, "status"));
        Assert.Equal(2, health.RootElement.GetProperty("configuration").GetProperty("faults").GetArrayLength());
        Dump(shop, "after", 1);
        running.WaitFor("Read 1 arrivals of mill-3");

        // Nobody asks this time: it is found by looking.
        shop.Configure(OneMill.Replace("made up 0", "made up 1").Replace("127.0.0.1:0", "127.0.0.1:1"));
        running.WaitFor("takes effect when the service is restarted");
        running.WaitFor(string.Create(CultureInfo.InvariantCulture, $"takes over: 1 machines, SHA-256 {Sha(shop)}"));
        using var after = Health(address);
        Assert.Equal(0, after.RootElement.GetProperty("configuration").GetProperty("faults").GetArrayLength());
        running.Stop().Exits(0);
    }

    [Fact]
    public void A_machine_that_is_added_is_watched_and_one_that_is_taken_away_is_withdrawn()
    {
        using var shop = Workshop.With(OneMill);
        Dump(shop, "first", 1);
        Dump(shop, "second", 2);
        using var running = shop.Start("run");
        running.WaitFor("Read 2 arrivals of mill-3");
        Assert.NotEmpty(shop.List("changes"));

        Directory.CreateDirectory(shop["offsets-4"]);
        shop.Write("offsets-4/a.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 X-1. Y-1. Z-1.\n");
        shop.Configure(OneMill.Replace("mill-3", "mill-4").Replace("offsets", "offsets-4"));
        HangUp(running);
        running.WaitFor("Read 1 arrivals of mill-4");
        running.Stop().Exits(0);

        Assert.All(shop.List("changes"), row => Assert.Equal("mill-4", Text(row, "machine")));
        Assert.Contains(shop.List("changes", "--withdrawn"),
            row => Text(row, "machine") == "mill-3" && row.GetRawText().Contains("no longer names mill-3", StringComparison.Ordinal));
    }

    private static void Dump(Workshop shop, string name, int x) => File.WriteAllText(shop[$"offsets/{name}.nc"],
        string.Create(CultureInfo.InvariantCulture, $"%\nG10 L2 P1 X-{x}. Y-1. Z-1.\n%\n"));

    private static string Bore(int number) => string.Create(CultureInfo.InvariantCulture, $"bore-{number}");

    private static void Print(Workshop shop, int number) => File.AppendAllText(shop["prints/prints.log"], $"SIZE {Bore(number)} 25.0\n");

    private static int Printed(IReadOnlyList<JsonElement> rows) => rows.Where(row => Text(row, "file").StartsWith("prints/", StringComparison.Ordinal))
        .Sum(row => row.GetProperty("bytes").GetInt32()) / "SIZE bore-1 25.0\n".Length;

    private static void HangUp(RunningProgram running)
    {
        using var kill = Process.Start(Tool.At("kill"), ["-HUP", running.ProcessId.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
    }

    private static string Sha(Workshop shop) =>
        Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(shop.ConfigPath)));

    private static string Address(RunningProgram running) => Http.Match(running.Written()).Value;

    private static JsonDocument Health(string address)
    {
        using var client = new HttpClient();
        using var answer = client.Send(new HttpRequestMessage(HttpMethod.Get, address + "/health"), TestContext.Current.CancellationToken);
        return JsonDocument.Parse(answer.Content.ReadAsStream(TestContext.Current.CancellationToken));
    }

    // The service derives a moment after it took in; each look runs the program, which takes longer than any wait would.
    private static void WaitUntil(Workshop shop, Func<IReadOnlyList<JsonElement>, bool> holds)
    {
        for (var tries = 0; tries < 60; tries++)
            if (holds(shop.List("arrivals"))) return;
        Assert.Fail("what was written did not arrive");
    }

    private static string Text(JsonElement row, string field) => row.GetProperty(field).ToString();

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+(?!\d)", RegexOptions.RightToLeft)]
    private static partial Regex Http { get; }
}
