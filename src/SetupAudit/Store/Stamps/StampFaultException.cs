namespace SetupAudit.Store.Stamps;

/// <summary>No time stamp came about, or it does not hold. The message is a sentence without its full stop.</summary>
internal sealed class StampFaultException : Exception
{
    public StampFaultException()
    {
    }

    public StampFaultException(string message)
        : base(message)
    {
    }

    public StampFaultException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
