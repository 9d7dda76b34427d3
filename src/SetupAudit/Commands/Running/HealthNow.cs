using SetupAudit.Auditing;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Web;

namespace SetupAudit.Commands.Running;

/// <summary>Says from where the loop and the watched folders stand how the service does.</summary>
internal sealed class HealthNow(Auditor auditor, StandingLog standing, ConfigurationWatch configuration)
{
    /// <summary>A loop that has not got on for this long hangs: nothing it does takes as long without a sign.</summary>
    public static readonly TimeSpan LoopMost = TimeSpan.FromMinutes(2);

    public Health Of(DateTimeOffset startedUtc)
    {
        var sources = auditor.Sources;
        var parts = Parts().ToList();
        var fault = FaultOf(sources);
        var isDegraded = sources.Any(source => source.Fault is not null) || configuration.State.RefusedUtc is not null
            || parts.Any(part => part.Status != HealthStatus.Working);
        return new Health
        {
            Version = ProgramVersion.Text,
            StartedUtc = startedUtc,
            Status = fault is not null ? HealthStatus.Failing
                : isDegraded ? HealthStatus.Degraded
                : HealthStatus.Working,
            Fault = fault,
            LoopAge = auditor.Pulse.Age,
            IsLive = IsLive,
            IsReady = sources.Count > 0 && IsLive,
            Machines = [.. auditor.Options.Shop.Machines.Select(machine => Of(machine, sources))],
            Configuration = configuration.State,
            Parts = parts,
        };
    }

    private bool IsLive => auditor.Pulse.Age <= LoopMost;

    private string? FaultOf(IReadOnlyList<ShareStatus> sources) =>
        sources.Count == 0 ? auditor.StoreFault is { } why
            ? $"The record is not open, so nothing is taken in now; it is tried again. {why}"
            : "The record is not open, so nothing is taken in now."
        : !IsLive ? "The loop does not get on, so nothing is derived now."
        : null;

    private IEnumerable<PartHealth> Parts()
    {
        if (auditor.Record is { } record)
            yield return Part("record", record.OffBoxFault is { } fault
                ? $"Checkpoints do not reach the folder off this computer: {fault}." : null) with
            {
                Figures = [("entries", record.Size), ("anchored", record.IsAnchored ? 1 : 0)],
            };
        if (auditor.Stamping is { } stamps)
            yield return Part("stamps",
                stamps.Fault is { } why ? $"Checkpoints are not time-stamped: {why}." : null) with
            {
                Figures = [("entries", stamps.Size)],
            };
        if (auditor.Sending is { } sending)
            yield return Part("alerts", sending.Held.Count == 0 ? null : string.Join(' ', sending.Held)) with
            {
                Figures = [("waiting", sending.Open)],
            };
    }

    private static PartHealth Part(string name, string? fault) =>
        new(name, fault is null ? HealthStatus.Working : HealthStatus.Degraded, fault);

    private MachineHealth Of(MachineConfig machine, IReadOnlyList<ShareStatus> sources)
    {
        var own = sources.Where(source => source.Source.Machine == machine.Name).ToList();
        // One source that was never read whole leaves open what it would have shown.
        var horizon = own.Count == 0 || own.Any(source => source.LastCleanUtc is null)
            ? null
            : own.Min(source => source.LastCleanUtc);
        return new MachineHealth(machine.Name, horizon, [.. own.Select(Of)])
        {
            Backlog = standing.Backlog(machine.Name),
        };
    }

    private static SourceHealth Of(ShareStatus status) => new(status.Source.Name, status.Fault)
    {
        CleanUtc = status.LastCleanUtc,
        Blocked = status.Blocked,
        Files = status.Files,
        Pending = status.Pending,
        TornReads = status.TornReads,
    };
}
