using System.Data.Common;
using System.Text;
using SetupAudit.Reports;
using SetupAudit.Store;

namespace SetupAudit.Web;

/// <summary>Answers <c>/</c> and <c>/setups/ID</c>.</summary>
internal static class PageDoor
{
    private const string Html = "text/html; charset=utf-8";
    private const string Plain = "text/plain; charset=utf-8";

    public static void Use(IApplicationBuilder web, PageSource pages) =>
        web.Use((HttpContext request, RequestDelegate next) => AnswerOrPassAsync(request, pages, next));

    private static Task AnswerOrPassAsync(HttpContext request, PageSource pages, RequestDelegate next)
    {
        if (request.Request.Path == "/") return AnswerAsync(request, pages.First);
        return IdOf(request) is { } id ? AnswerAsync(request, token => pages.Setup(id, token)) : next(request);
    }

    private static string? IdOf(HttpContext request) =>
        request.Request.Path.StartsWithSegments("/setups", StringComparison.Ordinal, out var rest)
            && rest.Value is ['/', .. { Length: > 0 } id] && !id.Contains('/', StringComparison.Ordinal)
            ? id
            : null;

    private static async Task AnswerAsync(HttpContext request, Func<CancellationToken, Task<string?>> make)
    {
        var answer = request.Response;
        // Beside what the page says of itself: it is shown in no frame, and its address goes nowhere.
        answer.Headers.ContentSecurityPolicy = HtmlReport.Policy + "; frame-ancestors 'none'";
        answer.Headers["Referrer-Policy"] = "no-referrer";
        try
        {
            if (await make(request.RequestAborted) is { } html)
            {
                await WebDoor.SendAsync(request, Html, Encoding.UTF8.GetBytes(html));
                return;
            }
            answer.StatusCode = StatusCodes.Status404NotFound;
            await SayAsync(request, "There is no setup of this id now; the first page lists the last ones.");
        }
        catch (Exception fault) when (fault is StoreException or DbException)
        {
            answer.StatusCode = StatusCodes.Status503ServiceUnavailable;
            await SayAsync(request, VisibleText.Of(fault.Message));
        }
    }

    private static Task SayAsync(HttpContext request, string text) =>
        WebDoor.SendAsync(request, Plain, Encoding.UTF8.GetBytes(text + "\n"));
}
