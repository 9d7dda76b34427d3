using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// The range a print-out gives for what it measured. Its low and high may be sizes, or deviations from the nominal.
/// </summary>
internal readonly record struct Tolerance(decimal? Low, decimal? High)
{
    /// <summary>Null where the line gives no bound at all.</summary>
    public static Tolerance? Of(Measurement measurement)
    {
        if (measurement.Low is null && measurement.High is null) return null;
        var (low, high) = (measurement.Low, measurement.High);
        return measurement.Nominal is { } nominal && AreDeviations(low, high, nominal)
            ? new Tolerance(nominal + low, nominal + high)
            : new Tolerance(low, high);
    }

    public bool Holds(decimal value) => (Low is not { } low || value >= low) && (High is not { } high || value <= high);

    public Bounds? Range => Low is { } low && High is { } high ? new Bounds(low, high) : null;

    // Bounds that lie nearer to zero than to the nominal are deviations: 25 with -0.02 and +0.02. Half the nominal is
    // where the two meet; no fit comes near it.
    private static bool AreDeviations(decimal? low, decimal? high, decimal nominal) =>
        nominal != 0m && IsSmall(low, nominal) && IsSmall(high, nominal);

    private static bool IsSmall(decimal? bound, decimal nominal) =>
        bound is not { } value || Math.Abs(value) < Math.Abs(nominal) / 2m;
}
