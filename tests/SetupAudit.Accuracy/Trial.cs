namespace SetupAudit.Accuracy;

/// <summary>What is tried on the made-up shops.</summary>
internal enum Trial
{
    /// <summary>Clean setups, and one mistake of every kind on every job.</summary>
    Jumps,

    /// <summary>Spoiled parts.</summary>
    Traces,
}
