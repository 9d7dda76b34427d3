namespace SetupAudit.Store;

/// <summary>How far a file of a source was taken in, as the reader of the share writes it down for itself.</summary>
/// <param name="Machine">Empty for the sheets folder.</param>
/// <param name="Source">What tells the machine's sources apart, such as the watched folder.</param>
/// <param name="Name">The name within the source.</param>
/// <param name="State">Text that only the reader understands; null to forget the name.</param>
public sealed record SourcePosition(string Machine, string Source, string Name, string? State);
