namespace SetupAudit.Shares;

/// <summary>
/// A file gave other bytes, or another size or time, than when it was first read: it is tried again next time.
/// </summary>
public sealed class FileChangedException : IOException
{
    public FileChangedException()
    {
    }

    public FileChangedException(string message)
        : base(message)
    {
    }

    public FileChangedException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
