namespace SetupAudit.Evidence;

/// <summary>
/// Where something is written: the file as it was found, its bytes by SHA-256, and the line (from 1).
/// </summary>
public sealed record SourceLine(string File, string Sha256, int Line);
