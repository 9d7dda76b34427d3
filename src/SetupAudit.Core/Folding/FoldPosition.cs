using SetupAudit.Readings;

namespace SetupAudit.Folding;

/// <summary>How far a fold has come: the place of the last sighting in contract promise 2's order.</summary>
public sealed record FoldPosition(DateTimeOffset AtUtc, int Source, string File, string Sha256, int Line)
    : IComparable<FoldPosition>
{
    /// <summary>Before every sighting.</summary>
    public static FoldPosition Start { get; } = new(DateTimeOffset.MinValue, int.MinValue, "", "", 0);

    public static FoldPosition Of(Sighting sighting) =>
        new(sighting.AtUtc, sighting.Source, sighting.File, sighting.Sha256, sighting.Line);

    public int CompareTo(FoldPosition? other)
    {
        if (other is null) return 1;
        var order = AtUtc.CompareTo(other.AtUtc);
        if (order == 0) order = Source.CompareTo(other.Source);
        if (order == 0) order = string.CompareOrdinal(File, other.File);
        if (order == 0) order = string.CompareOrdinal(Sha256, other.Sha256);
        return order == 0 ? Line.CompareTo(other.Line) : order;
    }

    public static bool operator <(FoldPosition left, FoldPosition right) => left.CompareTo(right) < 0;

    public static bool operator >(FoldPosition left, FoldPosition right) => left.CompareTo(right) > 0;

    public static bool operator <=(FoldPosition left, FoldPosition right) => left.CompareTo(right) <= 0;

    public static bool operator >=(FoldPosition left, FoldPosition right) => left.CompareTo(right) >= 0;
}
