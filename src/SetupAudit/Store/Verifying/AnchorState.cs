namespace SetupAudit.Store.Verifying;

/// <summary>A place where checkpoints are kept apart from the database, and how far it goes.</summary>
/// <param name="Path">The file.</param>
/// <param name="IsOffBox">It is the copy off this computer.</param>
/// <param name="Size">How many entries its newest checkpoint covers; 0 where it holds none.</param>
public sealed record AnchorState(string Path, bool IsOffBox, long Size);
