namespace SetupAudit.Auditing;

/// <summary>How far long work is.</summary>
/// <param name="Machine">Empty for the sheets.</param>
/// <param name="Doing">Such as "reading" or "folding".</param>
/// <param name="Done">How many files, or sightings, of it are done.</param>
public sealed record AuditProgress(string Machine, string Doing, long Done);
