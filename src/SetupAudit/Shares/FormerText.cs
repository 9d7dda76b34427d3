namespace SetupAudit.Shares;

/// <summary>How far a text was taken that lay under a name before the file was rewritten.</summary>
/// <param name="SeenUtc">The file's time when it was last looked at with this text.</param>
internal sealed record FormerText(PrefixMark Mark, int Lines, DateTime SeenUtc);
