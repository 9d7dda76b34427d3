using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>What measurements say of a feature.</summary>
internal static class MeasuredValues
{
    /// <summary>The size as measured; where only a deviation is told, the nominal with it.</summary>
    public static decimal? SizeMeasured(this Measurement measurement) =>
        measurement.Size ?? measurement.Nominal + measurement.Deviation;

    /// <summary>Print-outs and sheets may write a feature in other letters.</summary>
    public static bool Names(this Measurement measurement, string feature) =>
        string.Equals(measurement.Feature, feature, StringComparison.OrdinalIgnoreCase);

    /// <summary>X, Y and Z of where it was measured, as far as told.</summary>
    public static decimal? At(this Measurement measurement, Axis axis) => axis switch
    {
        Axis.X => measurement.X,
        Axis.Y => measurement.Y,
        Axis.Z => measurement.Z,
        _ => null,
    };

    /// <summary>The last word on each part: setting up counts as one, each cycle as another.</summary>
    public static IEnumerable<Measurement> LastOfEachPart(this IEnumerable<Measurement> measurements) =>
        measurements.GroupBy(measurement => measurement.Cycle).Select(part => part.MaxBy(measured => measured.AtUtc))
            .OfType<Measurement>().OrderBy(measurement => measurement.AtUtc);
}
