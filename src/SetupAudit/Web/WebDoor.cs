using Microsoft.AspNetCore.HostFiltering;

namespace SetupAudit.Web;

/// <summary>The address the service listens on, and what it answers there; it reads nothing a visitor sends.</summary>
public static class WebDoor
{
    private const int RequestBytesMost = 16 * 1024;

    /// <summary>
    /// A host that listens on this address only, whatever the environment says; the caller adds what else it hosts.
    /// </summary>
    public static WebApplicationBuilder At(string url)
    {
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().UseUrls(url).ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = 0;
            kestrel.Limits.MaxRequestHeadersTotalSize = RequestBytesMost;
            kestrel.Limits.MaxConcurrentConnections = 100;
        });
        // A page in a visitor's browser may point a name of its own at this address; it is not answered.
        builder.Services.Configure<HostFilteringOptions>(hosts =>
        {
            hosts.AllowedHosts = AllowedHosts(url);
            hosts.AllowEmptyHosts = false;
        });
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(30));
        return builder;
    }

    /// <summary>Answers <c>/health</c>, and nothing else.</summary>
    public static WebApplication Answering(this WebApplication web, Func<Health> health)
    {
        web.UseHostFiltering();
        web.Run(request => AnswerAsync(request, health));
        return web;
    }

    private static async Task AnswerAsync(HttpContext request, Func<Health> health)
    {
        var answer = request.Response;
        answer.Headers.XContentTypeOptions = "nosniff";
        answer.Headers.CacheControl = "no-store";
        if (request.Request.Path != "/health")
        {
            answer.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        if (!HttpMethods.IsGet(request.Request.Method) && !HttpMethods.IsHead(request.Request.Method))
        {
            answer.Headers.Allow = "GET, HEAD";
            answer.StatusCode = StatusCodes.Status405MethodNotAllowed;
            return;
        }
        var now = health();
        answer.StatusCode = now.Status == HealthStatus.Failing
            ? StatusCodes.Status503ServiceUnavailable
            : StatusCodes.Status200OK;
        answer.ContentType = "application/json; charset=utf-8";
        var body = HealthBody.Of(now);
        answer.ContentLength = body.Length;
        if (HttpMethods.IsGet(request.Request.Method)) await answer.Body.WriteAsync(body, request.RequestAborted);
    }

    private static IList<string> AllowedHosts(string url)
    {
        // "*" and "0.0.0.0" stand for any address, and so for any name.
        var host = BindingAddress.Parse(url).Host;
        return host is "*" or "+" or "0.0.0.0" or "[::]"
            ? ["*"]
            : [host, "localhost", "127.0.0.1", "[::1]"];
    }
}
