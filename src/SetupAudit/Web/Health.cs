namespace SetupAudit.Web;

/// <summary>How the service does, as <c>/health</c> tells it.</summary>
public sealed record Health
{
    public required HealthStatus Status { get; init; }

    public required string Version { get; init; }

    public required DateTimeOffset StartedUtc { get; init; }

    /// <summary>What it cannot do, in a sentence; null where it works.</summary>
    public string? Fault { get; init; }

    public IReadOnlyList<MachineHealth> Machines { get; init; } = [];
}
