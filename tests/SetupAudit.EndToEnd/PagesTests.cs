using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>The running service shows what it found to a browser.</summary>
public sealed partial class PagesTests
{
    private const string Mill = """
        {
          "Shop": { "Name": "Harrow Lane Works", "TimeZone": "Europe/London", "Poll": "00:00:00.1", "Settle": "00:00:00.1" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm", "Watch": [
            { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] } },
          "Web": { "Url": "http://127.0.0.1:0" }
        }
        """;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_setup_on_a_share_is_a_page_of_the_running_service()
    {
        using var shop = Workshop.With(Mill);
        shop.Write("offsets/1.nc", "2026-03-02T07:00:00Z", "%\nG10 L2 P1 X-400. Y-200. Z-310.\n%\n")
            .Write("offsets/2.nc", "2026-03-02T07:14:00Z", "%\nG10 L2 P1 X-397. Y-203. Z-310.\n%\n");
        using var running = shop.Start("run");
        running.WaitFor("Listening on");
        using var client = new HttpClient { BaseAddress = new Uri(Address.Match(running.Written()).Value) };

        var link = await LinkAsync(client);
        var report = await client.GetStringAsync(link, Token);

        Assert.StartsWith("setups/mill-3@20260302-07", link);
        // A machine's name as it is written: the style that sets headings in capitals leaves it alone.
        var first = await client.GetStringAsync("/", Token);
        Assert.Contains("<h2 class=\"name\">mill-3</h2>", first);
        Assert.Matches("h2\\.name \\{[^}]*text-transform: none", first);
        Assert.Contains("How to check this report", report);
        Assert.Contains("\u2212397", report);
        running.Stop().Exits(0);
    }

    // The setup shows when the first scan is taken in and derived; until then the page says that there is none.
    private static async Task<string> LinkAsync(HttpClient client)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(Token);
        patience.CancelAfter(TimeSpan.FromMinutes(1));
        while (true)
        {
            using var answer = await client.GetAsync("/", patience.Token);
            var page = await answer.Content.ReadAsStringAsync(patience.Token);
            if (Link.Match(page) is { Success: true } link) return link.Groups[1].Value;
            await Task.Delay(TimeSpan.FromMilliseconds(100), TimeProvider.System, patience.Token);
        }
    }

    [GeneratedRegex("http://127\\.0\\.0\\.1:[0-9]+")]
    private static partial Regex Address { get; }

    [GeneratedRegex("<a href=\"(setups/[^\"]+)\"")]
    private static partial Regex Link { get; }
}
