namespace SetupAudit.Store;

/// <summary>
/// A place in a machine's time line; compares as sightings are folded: moment, source, path, SHA-256, line.
/// </summary>
public sealed record SightingPosition(DateTimeOffset AtUtc, int Source, string File, string Sha256, int Line)
    : IComparable<SightingPosition>
{
    /// <summary>Before every sighting of a moment.</summary>
    public static SightingPosition Before(DateTimeOffset momentUtc) => new(momentUtc, int.MinValue, "", "", 0);

    /// <summary>Behind every sighting.</summary>
    public static SightingPosition End { get; } = new(DateTimeOffset.MaxValue, int.MaxValue, "", "", 0);

    public int CompareTo(SightingPosition? other)
    {
        if (other is null) return 1;
        var order = AtUtc.CompareTo(other.AtUtc);
        if (order == 0) order = Source.CompareTo(other.Source);
        if (order == 0) order = string.CompareOrdinal(File, other.File);
        if (order == 0) order = string.CompareOrdinal(Sha256, other.Sha256);
        return order == 0 ? Line.CompareTo(other.Line) : order;
    }

    public static bool operator <(SightingPosition left, SightingPosition right) => left.CompareTo(right) < 0;

    public static bool operator >(SightingPosition left, SightingPosition right) => left.CompareTo(right) > 0;

    public static bool operator <=(SightingPosition left, SightingPosition right) => left.CompareTo(right) <= 0;

    public static bool operator >=(SightingPosition left, SightingPosition right) => left.CompareTo(right) >= 0;
}
