namespace SetupAudit.Auditing;

/// <summary>Named limits of a long fold. They decide how much is held and kept, never what is derived.</summary>
internal sealed record FoldLimits
{
    /// <summary>How many rows may wait to be recorded.</summary>
    public int Weight { get; init; } = 20_000;

    /// <summary>How many sightings lie between states kept on disk.</summary>
    public int KeptApart { get; init; } = 5_000;

    /// <summary>How many sightings a pass must have folded since the last state on disk for its end to be kept
    /// too.</summary>
    public int KeptAtEnd { get; init; } = 200;

    /// <summary>How many sightings lie between states kept in memory.</summary>
    public int CheckpointsApart { get; init; } = 1_000;
}
