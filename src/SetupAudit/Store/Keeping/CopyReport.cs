namespace SetupAudit.Store.Keeping;

/// <summary>What was copied.</summary>
/// <param name="Entries">How many entries the copied record has.</param>
/// <param name="Segments">How many files of evidence were copied, without those that were there already.</param>
public sealed record CopyReport(long Entries, int Segments, long Bytes);
