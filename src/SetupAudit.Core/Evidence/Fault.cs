namespace SetupAudit.Evidence;

/// <summary>
/// Why something in a file could not be read. Line and column count from 1; 0 means the file as a whole.
/// </summary>
public sealed record Fault(int Line, int Column, string Reason);
