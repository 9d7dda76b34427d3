using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>What is wrong with a part: measured minus nominal, in the programmed axes, from surfaces not cut in the
/// register.</summary>
public sealed record PartError
{
    /// <summary>By axis, in the machine's unit; on a lathe that programs X on diameter, X is a diameter.</summary>
    public IReadOnlyDictionary<Axis, decimal> ByAxis { get; init; } = new Dictionary<Axis, decimal>();

    /// <summary>A feature's diameter, or a width between two sides cut by one tool, in the machine's unit; null where
    /// not given.</summary>
    public decimal? Diameter { get; init; }

    /// <summary>The feature is a bore or pocket; else an outside one.</summary>
    public bool Inside { get; init; }

    /// <summary>Standard uncertainty of the measurement, in the machine's unit.</summary>
    public required decimal Uncertainty { get; init; }

    /// <summary>The register the feature is cut in; null for every one that the program cuts in.</summary>
    public Register? Register { get; init; }

    /// <summary>The tool that cut it; null for every one that the program calls.</summary>
    public int? Tool { get; init; }
}
