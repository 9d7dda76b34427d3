using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using SetupAudit.Metering;

namespace SetupAudit.Web;

// Each test listens on a port of the loopback address that the system picks.
public sealed class WebDoorTests : IAsyncDisposable
{
    private WebApplication? _web;
    private MetricsPage? _page;

    public async ValueTask DisposeAsync()
    {
        if (_web is not null) await _web.DisposeAsync();
        _page?.Dispose();
    }

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(HealthStatus.Working, HttpStatusCode.OK, "working")]
    [InlineData(HealthStatus.Degraded, HttpStatusCode.OK, "degraded")]
    [InlineData(HealthStatus.Failing, HttpStatusCode.ServiceUnavailable, "failing")]
    public async Task Health_tells_how_the_service_does_in_its_status_too(
        HealthStatus status, HttpStatusCode code, string word)
    {
        using var client = await ListenAsync(status);

        using var answer = await client.GetAsync("/health", Token);

        Assert.Equal(code, answer.StatusCode);
        Assert.Equal("application/json", answer.Content.Headers.ContentType?.MediaType);
        var body = JsonElement.Parse(await answer.Content.ReadAsStringAsync(Token));
        Assert.Equal(word, body.GetProperty("status").GetString());
        var source = body.GetProperty("machines")[0].GetProperty("sources")[0];
        Assert.Equal("offsets/*.nc", source.GetProperty("source").GetString());
        Assert.Equal("The folder does not answer.", source.GetProperty("fault").GetString());
    }

    [Theory]
    [InlineData("GET", "/", HttpStatusCode.NotFound)]
    [InlineData("GET", "/health/../shop.json", HttpStatusCode.NotFound)]
    [InlineData("GET", "/healthy", HttpStatusCode.NotFound)]
    [InlineData("POST", "/health", HttpStatusCode.MethodNotAllowed)]
    [InlineData("DELETE", "/health", HttpStatusCode.MethodNotAllowed)]
    [InlineData("POST", "/metrics", HttpStatusCode.MethodNotAllowed)]
    [InlineData("GET", "/metrics/all", HttpStatusCode.NotFound)]
    [InlineData("GET", "/health/deep", HttpStatusCode.NotFound)]
    [InlineData("HEAD", "/health", HttpStatusCode.OK)]
    [InlineData("HEAD", "/metrics", HttpStatusCode.OK)]
    public async Task Nothing_else_is_answered(string method, string path, HttpStatusCode code)
    {
        using var client = await ListenAsync(HealthStatus.Working);
        using var request = new HttpRequestMessage(new HttpMethod(method), path);

        using var answer = await client.SendAsync(request, Token);

        Assert.Equal(code, answer.StatusCode);
        Assert.Empty(await answer.Content.ReadAsStringAsync(Token));
    }

    [Fact]
    public async Task A_page_that_points_its_own_name_here_is_not_answered()
    {
        using var client = await ListenAsync(HealthStatus.Working);
        using var request = new HttpRequestMessage(HttpMethod.Get, "/health");
        request.Headers.Host = "elsewhere.example";

        using var answer = await client.SendAsync(request, Token);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task An_answer_is_neither_kept_nor_guessed_at_and_names_no_server()
    {
        using var client = await ListenAsync(HealthStatus.Working);

        using var answer = await client.GetAsync("/health", Token);

        Assert.Equal(new CacheControlHeaderValue { NoStore = true }, answer.Headers.CacheControl);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Empty(answer.Headers.Server);
    }

    [Theory]
    [InlineData("/health/live", true, true, HttpStatusCode.OK)]
    [InlineData("/health/ready", true, true, HttpStatusCode.OK)]
    [InlineData("/health/live", true, false, HttpStatusCode.OK)]
    [InlineData("/health/ready", true, false, HttpStatusCode.ServiceUnavailable)]
    [InlineData("/health/live", false, false, HttpStatusCode.ServiceUnavailable)]
    public async Task Whether_it_is_worth_keeping_is_asked_apart_from_whether_it_takes_in(
        string path, bool isLive, bool isReady, HttpStatusCode code)
    {
        using var client = await ListenAsync(
            HealthStatus.Failing, health => health with { IsLive = isLive, IsReady = isReady });

        using var answer = await client.GetAsync(path, Token);

        Assert.Equal(code, answer.StatusCode);
        Assert.Equal(code == HttpStatusCode.OK ? """{"status":"working"}""" : """{"status":"failing"}""",
            await answer.Content.ReadAsStringAsync(Token));
    }

    [Fact]
    public async Task Another_part_of_the_service_and_a_refused_configuration_are_told()
    {
        using var client = await ListenAsync(HealthStatus.Degraded, health => health with
        {
            Configuration = new ConfigurationHealth("ab", health.StartedUtc)
            {
                RefusedUtc = health.StartedUtc.AddMinutes(1),
                Faults = ["shop.json:3:1 Macines: is not a key here"],
            },
            Parts = [new PartHealth("alerts", HealthStatus.Degraded, "The mail server does not answer.")
                { Figures = [("waiting", 3), ("oldestSeconds", 61.5)] }],
        });

        var body = JsonElement.Parse(await client.GetStringAsync("/health", Token));

        Assert.Equal(
            """{"sha256":"ab","since":"2026-03-02T07:00:00Z","refused":"2026-03-02T07:01:00Z","faults":["shop.json:3:1 Macines: is not a key here"]}""",
            body.GetProperty("configuration").GetRawText());
        Assert.Equal(
            """[{"part":"alerts","status":"degraded","fault":"The mail server does not answer.","waiting":3,"oldestSeconds":61.5}]""",
            body.GetProperty("parts").GetRawText());
    }

    [Fact]
    public async Task The_figures_are_plain_text_of_the_version_that_scrapers_know()
    {
        using var client = await ListenAsync(HealthStatus.Working);

        using var answer = await client.GetAsync("/metrics", Token);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("text/plain; version=0.0.4; charset=utf-8", answer.Content.Headers.ContentType?.ToString());
        Assert.Contains("# TYPE setupaudit_arrivals_total counter\n", await answer.Content.ReadAsStringAsync(Token));
    }

    private async Task<HttpClient> ListenAsync(HealthStatus status, Func<Health, Health>? change = null)
    {
        var health = new Health
        {
            Status = status,
            Version = "0.1.0",
            StartedUtc = new DateTimeOffset(2026, 3, 2, 7, 0, 0, TimeSpan.Zero),
            Machines = [new MachineHealth("mill-3", null, [new SourceHealth("offsets/*.nc", "The folder does not answer.")])],
        };
        _page = new MetricsPage();
        _web = WebDoor.At("http://127.0.0.1:0", () => change?.Invoke(health) ?? health).Build()
            .Answering(() => change?.Invoke(health) ?? health, _page);
        await _web.StartAsync(Token);
        return new HttpClient { BaseAddress = new Uri(_web.Urls.First()) };
    }
}
