using SetupAudit.Units;

namespace SetupAudit.Shop;

/// <summary>What of an agent's documents belongs to the machine, and what its words and numbers mean.</summary>
public sealed record StreamConfig
{
    /// <summary>Name or UUID of the device; null where the documents tell of one alone.</summary>
    public string? Device { get; init; }

    /// <summary>Name or id of the path; null where the device has one alone.</summary>
    public string? Path { get; init; }

    /// <summary>What the lengths are in: millimetres by the standard, unless the agent passes on what it got.</summary>
    public Unit Units { get; init; } = Unit.Millimetre;

    /// <summary>A control's native code to the kind of alarm that it is, such as surface-not-found.</summary>
    public IReadOnlyDictionary<string, string> Alarms { get; init; } =
        new Dictionary<string, string>(StringComparer.Ordinal);
}
