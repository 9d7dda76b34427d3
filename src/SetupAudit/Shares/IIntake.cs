namespace SetupAudit.Shares;

/// <summary>
/// Where found files go; the Auditing room implements it. Called from one thread a source at a time, and from several
/// sources at once.
/// </summary>
public interface IIntake
{
    /// <summary>The positions kept for a source, asked for once when its watch begins.</summary>
    IReadOnlyList<Position> Positions(ShareSource source);

    /// <summary>
    /// Keeps the bytes, then commits arrivals and positions together. When it returns all is durable; when it throws,
    /// nothing counts as taken in and the same files come again.
    /// </summary>
    void TakeIn(ScanBatch batch, CancellationToken cancel);

    /// <summary>A scan ended, after its last batch was taken in.</summary>
    void Ended(ScanReport report);
}
