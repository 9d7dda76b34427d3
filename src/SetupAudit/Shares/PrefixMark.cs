namespace SetupAudit.Shares;

/// <summary>
/// Stands for the first <see cref="OffsetBytes"/> bytes of a file so that they can be told apart by reading only the
/// last of them: <see cref="Chain"/> is a running hash over the whole blocks up to <see cref="ChainedBytes"/>,
/// <see cref="End"/> the hash over it and all bytes from there to the offset.
/// </summary>
internal readonly record struct PrefixMark(long OffsetBytes, long ChainedBytes, Digest Chain, Digest End);
