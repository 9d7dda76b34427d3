namespace SetupAudit.Shares;

/// <summary>Called with each stretch of bytes, in order.</summary>
internal delegate void BytesVisitor(ReadOnlySpan<byte> bytes);
