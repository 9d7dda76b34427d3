namespace SetupAudit.Web;

/// <summary>How another part of the service does, such as what sends alerts.</summary>
/// <param name="Part">Its name, such as alerts.</param>
/// <param name="Fault">What it cannot do, in a sentence; null where it works.</param>
public sealed record PartHealth(string Part, HealthStatus Status, string? Fault)
{
    /// <summary>Figures of its own by name, in the order given.</summary>
    public IReadOnlyList<(string Name, double Value)> Figures { get; init; } = [];
}
