namespace SetupAudit.Readings;

/// <summary>A parameter that a block sets.</summary>
/// <param name="Number">Null where the program does not give which.</param>
/// <param name="Value">Null where the program does not give it.</param>
/// <param name="MayBeDatum">Of an unknown number: it is reckoned from one that holds a datum (#[5201 + #24 *
/// 20]).</param>
internal readonly record struct ProgramSetting(int? Number, decimal? Value, bool MayBeDatum);
