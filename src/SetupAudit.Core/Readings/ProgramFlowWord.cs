namespace SetupAudit.Readings;

/// <summary>
/// What a block does to the order in which blocks run. IF, GOTO, WHILE and their like are common practice (no source).
/// </summary>
[Flags]
internal enum ProgramFlowWord
{
    None = 0,

    /// <summary>What follows in the block runs only where a condition holds.</summary>
    If = 1,
    Then = 2,
    GoTo = 4,
    LoopBegins = 8,
    LoopEnds = 16,
    BranchBegins = 32,
    BranchEnds = 64,
    SubBegins = 128,
    SubEnds = 256,
    Call = 512,
}
