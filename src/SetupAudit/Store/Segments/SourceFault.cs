namespace SetupAudit.Store.Segments;

/// <summary>
/// The bytes to keep could not be read where they come from: no fault of the store, which goes on.
/// </summary>
internal sealed class SourceFault(Exception fault) : Exception(fault.Message, fault);
