namespace SetupAudit.Shop;

/// <summary>One pattern of a print-out.</summary>
public sealed record PrintPattern
{
    /// <summary>What a line may mean, in the order of the contract.</summary>
    public static IReadOnlyList<string> Meanings { get; } =
    [
        "program", "cycle-start", "cycle-end", "cycle-stop", "measured", "datum-set", "tool-set", "alarm",
        "pallet-change", "setter", "note",
    ];

    /// <summary>
    /// The groups of a pattern that are read; all but <c>time</c> go into the reading under their own names.
    /// </summary>
    public static IReadOnlyList<string> Groups { get; } =
    [
        "time", "program", "feature", "register", "axis", "value", "x", "y", "z", "size", "angle", "nominal", "low",
        "high", "deviation", "tool", "code", "text", "setter", "pallet", "part", "serial", "order", "operation",
        "count",
    ];

    /// <summary>A .NET regular expression that runs in linear time.</summary>
    public required string Match { get; init; }

    /// <summary>As written in the configuration: cycle-start, measured, datum-set ...</summary>
    public required string Means { get; init; }

    /// <summary>For an alarm: its kind, such as surface-not-found.</summary>
    public string? Kind { get; init; }

    /// <summary>
    /// For datum-set and tool-set: who makes the change ("measured", "entered"); measured where not configured.
    /// </summary>
    public string? By { get; init; }

    /// <summary>For tool-set: which part of the tool the value is; length where not configured.</summary>
    public string? Of { get; init; }
}
