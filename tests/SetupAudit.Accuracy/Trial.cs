namespace SetupAudit.Accuracy;

/// <summary>What is tried on the made-up shops.</summary>
internal enum Trial
{
    /// <summary>Clean setups, and one mistake of every kind on every job.</summary>
    Jumps,

    /// <summary>Spoiled parts.</summary>
    Traces,

    /// <summary>Mistakes on one register of a plate that is put down loosely.</summary>
    Plates,

    /// <summary>Pairs of mistakes that predict nearly the same.</summary>
    Close,

    /// <summary>What reviews teach of a shop in which one mistake is common.</summary>
    Reviews,
}
