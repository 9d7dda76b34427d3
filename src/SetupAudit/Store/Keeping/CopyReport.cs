namespace SetupAudit.Store.Keeping;

/// <summary>What was copied.</summary>
/// <param name="Entries">How many entries the copied record has.</param>
/// <param name="Segments">How many files of evidence were copied; those that were there already are not counted.</param>
public sealed record CopyReport(long Entries, int Segments, long Bytes);
