namespace SetupAudit.Shop;

/// <summary>Choices that common practice leaves open; each default is the commoner practice.</summary>
public sealed record DialectConfig
{
    /// <summary>In G91, G10 adds to what stood (the letter of RS274/NGC says that it always sets).</summary>
    public bool G91Adds { get; init; } = true;

    /// <summary>Whether a call's P names the called program by number (M98 P1234 calls O1234).</summary>
    public bool CallByNumber { get; init; } = true;
}
