namespace SetupAudit.Shares;

/// <summary>
/// A server that does not answer, or is not to be trusted: a fault of the share, in words for people.
/// </summary>
public sealed class ShareGoneException : IOException
{
    public ShareGoneException()
    {
    }

    public ShareGoneException(string message)
        : base(message)
    {
    }

    public ShareGoneException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
