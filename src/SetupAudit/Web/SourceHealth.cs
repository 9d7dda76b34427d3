namespace SetupAudit.Web;

/// <summary>How one watched folder does.</summary>
/// <param name="Source">The folder and its glob, as configured.</param>
/// <param name="Fault">Why it could not be read at its last turn; null where it was.</param>
public sealed record SourceHealth(string Source, string? Fault);
