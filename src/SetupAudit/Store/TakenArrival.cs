using SetupAudit.Evidence;

namespace SetupAudit.Store;

/// <summary>One arrival to take in, with its bytes and all that is kept together with it in one transaction.</summary>
public sealed record TakenArrival
{
    public required Arrival Arrival { get; init; }

    /// <summary>
    /// The bytes, whose SHA-256 the arrival gives; empty for a refused arrival or where <see cref="Open"/> is given.
    /// </summary>
    public ReadOnlyMemory<byte> Bytes { get; init; }

    /// <summary>
    /// For a file too large to hold: opens its bytes. Not called where the same bytes are kept already.
    /// </summary>
    public Func<Stream>? Open { get; init; }

    /// <summary>What the arrival shows, in the machine's time line.</summary>
    public IReadOnlyList<StoredSighting> Sightings { get; init; } = [];

    /// <summary>
    /// Rows of its own, such as its status; each is appended unless it says what the newest of its id says.
    /// </summary>
    public IReadOnlyList<DerivedRow> Derived { get; init; } = [];
}
