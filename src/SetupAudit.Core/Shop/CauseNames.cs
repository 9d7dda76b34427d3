namespace SetupAudit.Shop;

/// <summary>The names of the causes, in the contract's order (section 6): what the configuration may weigh.</summary>
public static class CauseNames
{
    public static IReadOnlyList<string> All { get; } =
    [
        "inch-mm-mixed", "decimal-point-lost", "sign-flipped", "axes-swapped", "other-corner", "centre-for-edge",
        "stylus-radius", "other-tool-length", "other-register", "older-values", "mistyped-digit", "applied-twice",
        "riser-height", "gauge-height", "edge-finder-radius", "diameter-for-radius", "lift-left-in", "search-end",
        "fixture-moved",
    ];
}
