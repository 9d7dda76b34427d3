using SetupAudit.Shapes;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Web;

namespace SetupAudit.Commands;

/// <summary>Says from where the watched folders stand how the service does.</summary>
internal static class HealthNow
{
    public static Health Of(ShopConfig shop, IReadOnlyList<ShareStatus> sources, DateTimeOffset startedUtc) => new()
    {
        Version = ProgramVersion.Text,
        StartedUtc = startedUtc,
        Status = sources.Count == 0 ? HealthStatus.Failing
            : sources.Any(source => source.Fault is not null) ? HealthStatus.Degraded
            : HealthStatus.Working,
        Fault = sources.Count == 0 ? "The record is not open, so nothing is taken in now." : null,
        Machines = [.. shop.Machines.Select(machine => Of(machine, sources))],
    };

    private static MachineHealth Of(MachineConfig machine, IReadOnlyList<ShareStatus> sources)
    {
        var own = sources.Where(source => source.Source.Machine == machine.Name).ToList();
        // One source that was never read whole leaves open what it would have shown.
        var horizon = own.Count == 0 || own.Any(source => source.LastCleanUtc is null)
            ? null
            : own.Min(source => source.LastCleanUtc);
        return new MachineHealth(machine.Name, horizon,
            [.. own.Select(source => new SourceHealth(Coverage.SourceName(source.Source.Watch), source.Fault))]);
    }
}
