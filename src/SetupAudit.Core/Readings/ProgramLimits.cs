namespace SetupAudit.Readings;

/// <summary>
/// How much of one file is kept, all its programs together: a file may hold a thousand of them, and hostile text must
/// not fill the memory.
/// </summary>
internal sealed class ProgramLimits
{
    /// <summary>More stretches than any program has; those that follow are merged with earlier ones.</summary>
    public const int StepsMost = 10_000;

    public const int WritesMost = 10_000;
    public const int ProbingsMost = 10_000;

    private int _steps;
    private int _writes;
    private int _probings;

    /// <summary>Room for one more stretch; false where there is none.</summary>
    public bool TakeStep() => _steps < StepsMost && ++_steps > 0;

    /// <summary>Room for one more stretch of a register and tool that no earlier one has: as many again.</summary>
    public bool TakeNewStep() => _steps < StepsMost * 2 && ++_steps > 0;

    public bool TakeWrite() => _writes < WritesMost && ++_writes > 0;

    public bool TakeProbing() => _probings < ProbingsMost && ++_probings > 0;
}
