namespace SetupAudit.Readings;

/// <summary>A tool that a program changes to, with the offsets it calls for it.</summary>
/// <param name="Length">H number; null where none was called.</param>
/// <param name="Diameter">D number; null where none was called.</param>
/// <param name="Line">Line of the tool change; 0 in a called program.</param>
public sealed record ToolScope(int Tool, int? Length, int? Diameter, int Line);
