namespace SetupAudit.Shop;

/// <summary>
/// The names of the rules, in the contract's order (section 6): what the configuration may set a severity for.
/// </summary>
public static class RuleNames
{
    public static IReadOnlyList<string> All { get; } =
    [
        "axis-not-set", "datum-empty", "datum-from-earlier", "register-unused", "fixed-moved", "memory-lost",
        "implausible-jump", "outside-travel", "outside-sheet", "over-limit", "drift", "common-offset",
        "remeasured-apart", "size-off", "angle-not-applied", "surface-not-found", "search-too-long", "tool-not-set",
        "tool-jump", "changed-while-cutting", "program-writes-datum", "program-changed", "values-restored",
        "same-in-two", "silent-source", "clock-off", "unreadable", "lift",
    ];
}
