using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>
/// A datum or tool offset that a program sets itself; the value is null where the program alone does not give it.
/// </summary>
/// <param name="Key">What is set; only its axis or part holds where <see cref="Target"/> is not Named.</param>
/// <param name="Adds">The value is added (G91, or a shift such as G52).</param>
/// <param name="Conditional">The block stands after a block delete, or may be jumped over.</param>
/// <param name="Text">The block as written, for a report.</param>
public sealed record ProgramWrite(int Line, OffsetKey Key, decimal? Value, bool Adds, bool Conditional, string Text)
{
    /// <summary>Whether the block names the register or tool of <see cref="Key"/>.</summary>
    public ProgramWriteTarget Target { get; init; }

    /// <summary>In a scope: the called program in whose file the line stands; null for the program itself.</summary>
    public string? Program { get; init; }

    /// <summary>In a scope: where the line stands, which for a called program may be another file.</summary>
    public SourceLine? Source { get; init; }

    /// <summary>Whether this write sets that value.</summary>
    public bool Writes(OffsetKey key) => Target == ProgramWriteTarget.Named && Key == key;

    /// <summary>
    /// Whether this write may have set that value: where the register is not known, any one with the same axis.
    /// </summary>
    public bool MayWrite(OffsetKey key) => Target == ProgramWriteTarget.Named
        ? Key == key
        : Key.IsTool == key.IsTool && (Key.IsTool ? Key.Part == key.Part : Key.Axis == key.Axis);
}
