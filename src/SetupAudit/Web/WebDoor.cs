using System.Text;
using Microsoft.AspNetCore.HostFiltering;
using SetupAudit.Metering;

namespace SetupAudit.Web;

/// <summary>The address the service listens on, and what it answers there; it reads nothing a visitor sends.</summary>
public static class WebDoor
{
    private const int RequestBytesMost = 16 * 1024;

    /// <summary>
    /// A host that listens on this address only, whatever the environment says; the caller adds what else it hosts.
    /// </summary>
    /// <param name="alsoAs">An address by which people reach it as well; null for none.</param>
    public static WebApplicationBuilder At(string url, Func<Health> health, string? alsoAs = null)
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
            hosts.AllowedHosts = AllowedHosts(url, alsoAs);
            hosts.AllowEmptyHosts = false;
        });
        HealthDoor.Add(builder.Services, health);
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(30));
        return builder;
    }

    /// <summary>
    /// Answers <c>/health</c> and what is below it, <c>/metrics</c>, the pages for people, and nothing else.
    /// </summary>
    public static WebApplication Answering(
        this WebApplication web, Func<Health> health, MetricsPage metrics, PageSource? pages = null)
    {
        web.UseHostFiltering();
        web.Use(GuardAsync);
        HealthDoor.Use(web, health);
        web.MapWhen(request => request.Request.Path == "/metrics", page => page.Run(request =>
            SendAsync(request, MetricsPage.ContentType, Encoding.UTF8.GetBytes(metrics.Write()))));
        if (pages is not null) PageDoor.Use(web, pages);
        web.Run(request =>
        {
            request.Response.StatusCode = StatusCodes.Status404NotFound;
            return Task.CompletedTask;
        });
        return web;
    }

    internal static async Task SendAsync(HttpContext request, string contentType, ReadOnlyMemory<byte> body)
    {
        var answer = request.Response;
        answer.ContentType = contentType;
        answer.ContentLength = body.Length;
        if (HttpMethods.IsGet(request.Request.Method)) await answer.Body.WriteAsync(body, request.RequestAborted);
    }

    private static Task GuardAsync(HttpContext request, RequestDelegate next)
    {
        var answer = request.Response;
        answer.Headers.XContentTypeOptions = "nosniff";
        answer.Headers.CacheControl = "no-store";
        if (HttpMethods.IsGet(request.Request.Method) || HttpMethods.IsHead(request.Request.Method))
            return next(request);
        answer.Headers.Allow = "GET, HEAD";
        answer.StatusCode = StatusCodes.Status405MethodNotAllowed;
        return Task.CompletedTask;
    }

    private static IList<string> AllowedHosts(string url, string? alsoAs)
    {
        // "*" and "0.0.0.0" stand for any address, and so for any name.
        var host = BindingAddress.Parse(url).Host;
        return host is "*" or "+" or "0.0.0.0" or "[::]"
            ? ["*"]
            : [host, "localhost", "127.0.0.1", "[::1]", .. alsoAs is null ? [] : new[] { new Uri(alsoAs).Host }];
    }
}
