namespace SetupAudit.Tracing;

/// <summary>Which recorded change explains a part error, and which cycles ran under it.</summary>
public sealed record Trace
{
    /// <summary>The likeliest first; empty where nothing recorded explains the error.</summary>
    public required IReadOnlyList<TracedChange> Changes { get; init; }

    /// <summary>From the earliest moment of the first change to its undoing, or the latest evidence; null where nothing
    /// explains.</summary>
    public required SuspectWindow? Window { get; init; }

    public required CyclesKnown CyclesKnown { get; init; }

    public required IReadOnlyList<ExposedCycle> Cycles { get; init; }

    /// <summary>The last finished cycle of the same work certainly before the window; null where none is
    /// known.</summary>
    public required Setups.Cycle? LastGood { get; init; }

    /// <summary>The first cycle of the same work certainly after the undoing; null where none is known.</summary>
    public required Setups.Cycle? FirstAfter { get; init; }

    /// <summary>Nothing recorded explains the error better than something that no source shows.</summary>
    public required bool Unexplained { get; init; }

    /// <summary>Probability that something which no source shows is behind it.</summary>
    public required decimal UnexplainedProbability { get; init; }

    /// <summary>What the sources could not record, in sentences.</summary>
    public required IReadOnlyList<string> NotRecorded { get; init; }
}
