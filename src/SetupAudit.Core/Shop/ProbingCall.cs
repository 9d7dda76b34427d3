using SetupAudit.Datums;

namespace SetupAudit.Shop;

/// <summary>A probing routine of the shop's: how a program calls it, and which letters carry what.</summary>
public sealed record ProbingCall
{
    /// <summary>Place in the configuration's list, from 0.</summary>
    public int Index { get; init; }

    /// <summary>The words that make the call, such as "G65 P7040".</summary>
    public required string Call { get; init; }

    public required string Kind { get; init; }

    /// <summary>Letter that holds the search distance.</summary>
    public char? Search { get; init; }

    /// <summary>
    /// Axes the routine sets, in the register it names or the one in force; empty where it only measures.
    /// </summary>
    public IReadOnlyList<Axis> Sets { get; init; } = [];

    /// <summary>Letter that holds the register (54, 54.1, or 1 to 6).</summary>
    public char? Register { get; init; }
}
