using SetupAudit.Evidence;

namespace SetupAudit.Store;

/// <summary>One arrival to take in, with its bytes.</summary>
public sealed record TakenArrival
{
    public required Arrival Arrival { get; init; }

    /// <summary>
    /// The bytes, whose SHA-256 the arrival gives; empty for a refused arrival, or where <see cref="Open"/> is given.
    /// </summary>
    public ReadOnlyMemory<byte> Bytes { get; init; }

    /// <summary>
    /// For a file too large to hold: opens its bytes. Not called where the same bytes are kept already; what its
    /// stream throws is thrown on.
    /// </summary>
    public Func<Stream>? Open { get; init; }
}
