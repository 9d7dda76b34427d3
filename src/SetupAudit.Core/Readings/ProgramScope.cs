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

    /// <summary>
    /// It cuts, or may cut, in a register that it works out while it runs or that a program left which was not read: of
    /// no register is it known that it is not cut in.
    /// </summary>
    public bool MayCutAnywhere { get; init; }

    /// <summary>It changes to a tool that it works out while it runs.</summary>
    public bool MayCallAnyTool { get; init; }

    /// <summary>Whether all that it does is known: a register or tool that is not listed is not called.</summary>
    public bool IsWhole => Missing.Count == 0 && !IsCutShort && !MayCutAnywhere && !MayCallAnyTool;
}
