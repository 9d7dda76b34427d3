namespace SetupAudit.Readings;

/// <summary>A word of a program's block with its value worked out.</summary>
/// <param name="Letter">Upper case.</param>
/// <param name="Value">Null where the program does not give it, or where it could not be read.</param>
/// <param name="CountsIncrements">A plain number without a point: some controls count increments.</param>
/// <param name="RestsOnParameters">The value was worked out from parameters.</param>
/// <param name="Column">From 1, in bytes.</param>
internal readonly record struct ProgramWord(
    char Letter, decimal? Value, bool CountsIncrements, bool RestsOnParameters, int Column)
{
    /// <summary>The value as a whole number; null where there is none or it is none.</summary>
    public int? Whole => Value is { } value && value == decimal.Truncate(value) && Math.Abs(value) <= int.MaxValue
        ? (int)value
        : null;
}
