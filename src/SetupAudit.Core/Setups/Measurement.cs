using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>
/// A size, angle or position that a print-out or parameter says was measured. Values in the machine's unit and
/// degrees.
/// </summary>
public sealed record Measurement
{
    public required string Machine { get; init; }

    public string? Setup { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public string? Feature { get; init; }

    public Register? Register { get; init; }

    public decimal? Size { get; init; }

    public decimal? Angle { get; init; }

    public decimal? X { get; init; }

    public decimal? Y { get; init; }

    public decimal? Z { get; init; }

    public decimal? Nominal { get; init; }

    public decimal? Low { get; init; }

    public decimal? High { get; init; }

    public decimal? Deviation { get; init; }

    public required SourceLine Source { get; init; }

    /// <summary>Index of the cycle it was made in, counted in the setup; null outside any.</summary>
    public int? Cycle { get; init; }
}
