using SetupAudit.Units;

namespace SetupAudit.Alerts;

/// <summary>One value that moved, as a message names it.</summary>
/// <param name="What">The offset by its name, such as "Z of G54" or "length of tool 3".</param>
/// <param name="Before">Null where nothing was known before.</param>
/// <param name="After">Null where it lost its value.</param>
public sealed record AlertMove(string What, decimal? Before, decimal? After, decimal? Delta, Unit Unit)
{
    /// <summary>How far it may move, in the same unit; null where no limit applies.</summary>
    public decimal? Limit { get; init; }
}
