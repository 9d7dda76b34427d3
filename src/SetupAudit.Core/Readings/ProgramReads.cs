namespace SetupAudit.Readings;

/// <summary>Which parameters a value was worked out from.</summary>
internal sealed class ProgramReads
{
    private readonly int[] _numbers;
    private readonly bool _any;

    private ProgramReads(int[] numbers, bool any) => (_numbers, _any) = (numbers, any);

    /// <summary>What was read for the block in hand; null where nothing was.</summary>
    public static ProgramReads? Of(ExpressionParameters parameters) =>
        parameters.Reads.Count > 0 || parameters.ReadAny
            ? new ProgramReads([.. parameters.Reads], parameters.ReadAny)
            : null;

    /// <summary>Whether one of them was set in that stretch of the program.</summary>
    public bool RestOn(ProgramAssignments assigned) =>
        _any ? !assigned.IsEmpty : Array.Exists(_numbers, assigned.Has);
}
