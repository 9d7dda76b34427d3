namespace SetupAudit.Store;

/// <summary>What is taken in together: all of it is kept, or none.</summary>
public sealed record TakeInBatch
{
    public required IReadOnlyList<TakenArrival> Arrivals { get; init; }

    /// <summary>Where the sources stand once the arrivals are kept.</summary>
    public IReadOnlyList<SourcePosition> Positions { get; init; } = [];
}
