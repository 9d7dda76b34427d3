namespace SetupAudit.Shares;

/// <summary>
/// What a look at a print-out gave: the bytes appended, null where no line was finished, and how far it is taken.
/// </summary>
internal sealed record Piece(long OffsetBytes, long LengthBytes, int FirstLine, ByteRange? Range, Growth After);
