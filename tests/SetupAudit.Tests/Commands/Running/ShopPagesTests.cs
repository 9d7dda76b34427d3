using System.Net;
using System.Xml.Linq;
using Microsoft.AspNetCore.Builder;
using SetupAudit.Alerts.Support;
using SetupAudit.Metering;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Web;

namespace SetupAudit.Commands.Running;

/// <summary>The pages as a browser gets them: over HTTP on a loopback port, out of a record.</summary>
public sealed class ShopPagesTests : IAsyncDisposable
{
    private readonly CommandBench _bench = new();
    private readonly MetricsPage _metrics = new();
    private Health _health = new() { Status = HealthStatus.Working, Version = "0.1.0", StartedUtc = MadeUp.Opened };
    private WebApplication? _web;
    private ShopPages? _pages;

    public async ValueTask DisposeAsync()
    {
        if (_web is not null) await _web.DisposeAsync();
        _pages?.Dispose();
        _metrics.Dispose();
        _bench.Dispose();
    }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_first_page_lists_machines_and_leads_to_a_setups_report()
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();

        var first = await GetAsync(client, "/");
        var link = Assert.Single(Elements(first, "a")).Attribute("href")?.Value ?? "";
        Assert.Equal("setups/mill-3@20260302-071000", link);
        Assert.Equal(["mill-3", "mill-4"], Elements(first, "h2").Select(heading => heading.Value));
        Assert.Contains("No setup is known.", first, StringComparison.Ordinal);
        Assert.Contains("replaces no dry run above the part", first, StringComparison.Ordinal);

        var report = await GetAsync(client, link);
        Assert.Contains("How to check this report", report, StringComparison.Ordinal);
        Assert.Equal(WithoutMade(report), WithoutMade(await GetAsync(client, "/setups/mill-3%4020260302-071000")));
    }

    [Fact]
    public async Task A_report_is_the_one_that_the_command_writes()
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();
        await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench["r.html"]);
        Assert.Equal(WithoutMade(File.ReadAllText(_bench["r.html"])), WithoutMade(await GetAsync(client, $"/setups/{MadeUp.Setup}")));
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/setups/mill-3@20260302-071000")]
    public async Task No_page_may_run_or_load_anything(string path)
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();
        using var answer = await client.GetAsync(path, Token);

        Assert.Equal("text/html; charset=utf-8", answer.Content.Headers.ContentType?.ToString());
        Assert.Matches(
            "^default-src 'none'; style-src 'sha256-[A-Za-z0-9+/=]{44}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'$",
            Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("no-referrer", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
        Assert.True(answer.Headers.CacheControl?.NoStore);
        var page = await answer.Content.ReadAsStringAsync(Token);
        Assert.Empty(Elements(page, "script").Concat(Elements(page, "img")).Concat(Elements(page, "link")));
        Assert.DoesNotContain(XDocument.Parse(page).Descendants().Attributes(),
            attribute => attribute.Name.LocalName is "style" or "src" || attribute.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task Whatever_a_share_says_is_text_on_the_page(string text)
    {
        var hostile = MadeUp.Finding("hostile", Severity.Stop, text);
        await _bench.FillAsync(CommandBench.Row(DerivedKind.Finding, hostile.Finding, hostile.AtUtc, hostile));
        using var client = await ListenAsync();
        foreach (var path in (string[])["/", $"/setups/{MadeUp.Setup}"])
        {
            var page = XDocument.Parse(await GetAsync(client, path));
            Assert.Contains(page.Descendants("p"), element => element.Value == VisibleText.Of(text).Replace("\r\n", "\n"));
        }
    }

    [Theory]
    [InlineData("/setups/mill-3@2026")]
    [InlineData("/setups/mill-9@20260302-071000")]
    [InlineData("/setups/%0D%0A<b>")]
    [InlineData("/setups/' OR 1=1 --")]
    public async Task A_setup_that_is_not_there_is_not_found(string path)
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();
        using var answer = await client.GetAsync(path, Token);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Equal("text/plain; charset=utf-8", answer.Content.Headers.ContentType?.ToString());
        Assert.Equal("There is no setup of this id now; the first page lists the last ones.\n", await answer.Content.ReadAsStringAsync(Token));
    }

    [Theory]
    [InlineData("/setups")]
    [InlineData("/setups/")]
    [InlineData("/setups/a/b")]
    [InlineData("/setups/..%2Fshop.json/x")]
    [InlineData("/shop.json")]
    [InlineData("/Setups/mill-3@20260302-071000")]
    public async Task Nothing_else_is_answered(string path)
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();
        using var answer = await client.GetAsync(path, Token);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Empty(await answer.Content.ReadAsByteArrayAsync(Token));
    }

    [Theory]
    [InlineData("POST")]
    [InlineData("PUT")]
    [InlineData("DELETE")]
    public async Task Nothing_can_be_changed(string method)
    {
        using var client = await ListenAsync();
        foreach (var path in (string[])["/", "/setups/mill-3@20260302-071000"])
        {
            using var request = new HttpRequestMessage(new HttpMethod(method), path);
            using var answer = await client.SendAsync(request, Token);
            Assert.Equal(HttpStatusCode.MethodNotAllowed, answer.StatusCode);
        }
    }

    [Fact]
    public async Task Without_a_record_yet_the_page_says_so()
    {
        using var client = await ListenAsync();
        using var answer = await client.GetAsync("/", Token);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.StartsWith("There is no record in ", await answer.Content.ReadAsStringAsync(Token));
    }

    [Theory]
    [InlineData("audit.example", HttpStatusCode.OK)]
    [InlineData("elsewhere.example", HttpStatusCode.BadRequest)]
    public async Task It_is_answered_by_the_name_that_links_have_and_by_no_other(string host, HttpStatusCode code)
    {
        await _bench.FillAsync();
        using var client = await ListenAsync();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/");
        request.Headers.Host = host;
        using var answer = await client.SendAsync(request, Token);
        Assert.Equal(code, answer.StatusCode);
    }

    [Fact]
    public async Task The_first_page_says_what_cannot_be_read_or_kept_now()
    {
        await _bench.FillAsync();
        _health = _health with
        {
            Status = HealthStatus.Failing,
            Fault = "The record is not open, so nothing is taken in now.",
            Machines =
            [
                new MachineHealth("mill-3", null, [new SourceHealth("offsets/*.nc", null)]),
                new MachineHealth("mill-4", null, [new SourceHealth("offsets-4/*.nc", "the folder is not there")]),
            ],
        };
        using var client = await ListenAsync();

        var said = Elements(await GetAsync(client, "/"), "p").Where(line => line.Attribute("class")?.Value == "message");

        Assert.Equal(
            [
                "The record is not open, so nothing is taken in now.",
                "offsets-4/*.nc cannot be read now: the folder is not there.",
            ],
            said.Select(line => line.Value).Where(line => line.Contains(" now", StringComparison.Ordinal)));
    }

    private async Task<HttpClient> ListenAsync()
    {
        var shop = ConfigurationFile.Load(_bench.Config).Config ?? throw new InvalidOperationException("the bench's configuration is good");
        _pages = new ShopPages(() => shop, () => _health, TimeProvider.System);
        _web = WebDoor.At("http://127.0.0.1:0", () => _health, "https://audit.example:8443/shop").Build()
            .Answering(() => _health, _metrics, _pages.Source);
        await _web.StartAsync(Token);
        return new HttpClient { BaseAddress = new Uri(_web.Urls.First()) };
    }

    private static Task<string> GetAsync(HttpClient client, string path) => client.GetStringAsync(path, Token);

    private static IEnumerable<XElement> Elements(string page, string name) => XDocument.Parse(page).Descendants(name);

    private static string WithoutMade(string page) =>
        System.Text.RegularExpressions.Regex.Replace(page, "Made [-0-9]+ [:0-9]+Z", "Made");
}
