using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// A datum or tool offset that a program sets itself; the value is null where the program alone does not give it.
/// </summary>
/// <param name="Adds">The value is added (G91, or a shift such as G52).</param>
/// <param name="Conditional">The block stands after a block delete.</param>
/// <param name="Text">The block as written, for a report.</param>
public sealed record ProgramWrite(int Line, OffsetKey Key, decimal? Value, bool Adds, bool Conditional, string Text);
