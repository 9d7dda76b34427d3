namespace SetupAudit.Shop;

/// <summary>What is wrong in the configuration, and where.</summary>
/// <param name="Path">The place in the JSON, such as Machines.mill-3.Watch[2].Read; empty for the file as a
/// whole.</param>
/// <param name="Line">From 1.</param>
/// <param name="Column">From 1, in characters.</param>
/// <param name="Message">What was found and what is allowed, in words.</param>
public sealed record ConfigFault(string Path, int Line, int Column, string Message);
