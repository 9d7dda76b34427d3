using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// One value of a register or tool as a line of a dump says it, in the machine's unit (degrees for rotary axes).
/// </summary>
/// <param name="Line">Line in the file, from 1.</param>
/// <param name="Column">Column of the value's word, from 1, in bytes.</param>
/// <param name="Value">The digits the file had; null where the dump says that there is no value.</param>
/// <param name="How">Whether the value stands, adds to what stood, or depends on a switch at the machine.</param>
public readonly record struct OffsetReading(int Line, int Column, OffsetKey Key, decimal? Value, ReadingHow How);
