using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.Extensions.Diagnostics.HealthChecks;

namespace SetupAudit.Web;

/// <summary>
/// Health by ASP.NET Core's health checks: whether the process is worth keeping (live), whether it takes in (ready),
/// and all there is to say (<c>/health</c>).
/// </summary>
internal static class HealthDoor
{
    private const string Live = "live";
    private const string Ready = "ready";
    private const string Sources = "sources";

    public static void Add(IServiceCollection services, Func<Health> health) => services.AddHealthChecks()
        .AddCheck(Live, () => Result(health().IsLive ? HealthStatus.Working : HealthStatus.Failing))
        .AddCheck(Ready, () => Result(health().IsReady ? HealthStatus.Working : HealthStatus.Failing))
        .AddCheck(Sources, () => Result(health().Status));

    public static void Use(IApplicationBuilder web, Func<Health> health)
    {
        web.UseHealthChecks("/health/live", Short(Live));
        web.UseHealthChecks("/health/ready", Short(Ready));
        web.UseHealthChecks("/health", new HealthCheckOptions
        {
            AllowCachingResponses = true, // the door says no-store itself, without the date of long ago beside it
            Predicate = check => check.Name == Sources,
            ResponseWriter = (request, _) => WebDoor.SendAsync(request, "application/json; charset=utf-8",
                HealthBody.Of(health())),
        });
    }

    private static HealthCheckOptions Short(string name) => new()
    {
        AllowCachingResponses = true, // as above
        Predicate = check => check.Name == name,
        ResponseWriter = (request, report) => WebDoor.SendAsync(request, "application/json; charset=utf-8",
            HealthBody.Of(Of(report.Status))),
    };

    private static HealthCheckResult Result(HealthStatus status) => status switch
    {
        HealthStatus.Working => HealthCheckResult.Healthy(),
        HealthStatus.Degraded => HealthCheckResult.Degraded(),
        _ => HealthCheckResult.Unhealthy(),
    };

    private static HealthStatus Of(Microsoft.Extensions.Diagnostics.HealthChecks.HealthStatus status) => status switch
    {
        Microsoft.Extensions.Diagnostics.HealthChecks.HealthStatus.Healthy => HealthStatus.Working,
        Microsoft.Extensions.Diagnostics.HealthChecks.HealthStatus.Degraded => HealthStatus.Degraded,
        _ => HealthStatus.Failing,
    };
}
