namespace SetupAudit.Readings;

/// <summary>What running a program does, its calls followed and registers and tools carried into them.</summary>
public sealed record ProgramScope
{
    public required IReadOnlyList<RegisterScope> Registers { get; init; }

    public required IReadOnlyList<ToolScope> Tools { get; init; }

    /// <summary>Writes of the program and of those it calls, in the order they would run.</summary>
    public required IReadOnlyList<ProgramWrite> Writes { get; init; }

    public required IReadOnlyList<ProbingMove> Probing { get; init; }

    /// <summary>Called programs that no source has shown: nothing that rests on them is passed.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    /// <summary>The texts that were followed, the program's own first; each once.</summary>
    public IReadOnlyList<ProgramText> Texts { get; init; } = [];

    /// <summary>Calls nest deeper, or run longer, than is followed: the lists hold what was seen up to there.</summary>
    public bool IsCutShort { get; init; }
}
