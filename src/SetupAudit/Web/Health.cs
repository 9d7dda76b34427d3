namespace SetupAudit.Web;

/// <summary>How the service does, as <c>/health</c> tells it.</summary>
public sealed record Health
{
    public required HealthStatus Status { get; init; }

    public required string Version { get; init; }

    public required DateTimeOffset StartedUtc { get; init; }

    /// <summary>What it cannot do, in a sentence; null where it works.</summary>
    public string? Fault { get; init; }

    /// <summary>How long ago the loop last got on.</summary>
    public TimeSpan LoopAge { get; init; }

    /// <summary>Whether the process is worth keeping: its loop gets on.</summary>
    public bool IsLive { get; init; } = true;

    /// <summary>Whether it takes in and answers: the record is open.</summary>
    public bool IsReady { get; init; } = true;

    public IReadOnlyList<MachineHealth> Machines { get; init; } = [];

    public ConfigurationHealth? Configuration { get; init; }

    public IReadOnlyList<PartHealth> Parts { get; init; } = [];
}
