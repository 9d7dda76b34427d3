namespace SetupAudit.Store;

/// <summary>
/// The store cannot do what was asked. The message is a sentence for the person who runs the service.
/// </summary>
public sealed class StoreException : Exception
{
    public StoreException()
        : this(StoreFaultKind.Temporary, "The store failed.")
    {
    }

    public StoreException(string message)
        : this(StoreFaultKind.Temporary, message)
    {
    }

    public StoreException(string message, Exception? innerException)
        : this(StoreFaultKind.Temporary, message, innerException)
    {
    }

    public StoreException(StoreFaultKind kind, string message, Exception? innerException = null)
        : base(message, innerException) => Kind = kind;

    public StoreFaultKind Kind { get; }

    /// <summary>Another process writes the store.</summary>
    public bool IsHeld { get; init; }
}
