using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;

namespace SetupAudit.Web;

// Each test listens on a port of the loopback address that the system picks.
public sealed class WebDoorTests : IAsyncDisposable
{
    private WebApplication? _web;

    public async ValueTask DisposeAsync()
    {
        if (_web is not null) await _web.DisposeAsync();
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
    [InlineData("HEAD", "/health", HttpStatusCode.OK)]
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

    private async Task<HttpClient> ListenAsync(HealthStatus status)
    {
        _web = WebDoor.At("http://127.0.0.1:0").Build().Answering(() => new Health
        {
            Status = status,
            Version = "0.1.0",
            StartedUtc = new DateTimeOffset(2026, 3, 2, 7, 0, 0, TimeSpan.Zero),
            Machines = [new MachineHealth("mill-3", null, [new SourceHealth("offsets/*.nc", "The folder does not answer.")])],
        });
        await _web.StartAsync(Token);
        return new HttpClient { BaseAddress = new Uri(_web.Urls.First()) };
    }
}
