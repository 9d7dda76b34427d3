using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>A measured size is outside its nominal and tolerance, as the print-out gives them.</summary>
internal sealed class SizeOff : IRule
{
    public string Name => "size-off";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from measurement in setupCase.Setup.Measurements
        where measurement.SizeMeasured() is not null
        group measurement by measurement.Feature ?? "" into sizes
        orderby sizes.Key
        let inOrder = sizes.OrderBy(size => size.AtUtc).ToList()
        where inOrder.Exists(IsOff)
        select Found(setupCase, sizes.Key, inOrder);

    private Finding Found(SetupCase setupCase, string feature, List<Measurement> sizes)
    {
        var off = sizes.Where(IsOff).ToList();
        var first = off[0];
        var tolerance = Tolerance.Of(first);
        var unit = setupCase.Machine.Units;
        var size = first.SizeMeasured().GetValueOrDefault();
        var nominal = first.Nominal is { } value ? $" (nominal {Words.With(value, unit)})" : "";
        var message = $"{Of(feature)} was measured at {Words.With(size, unit)} at "
            + $"{setupCase.Told(first.AtUtc)}, {Outside(tolerance, unit)}{nominal}"
            + $"{Others(setupCase, sizes, off)}.";
        return setupCase.Raise(this, Severity.High, feature.Length == 0 ? "size" : Words.InId(feature), message,
            first.AtUtc, off.Select(measurement => measurement.Source)) with
        {
            Register = first.Register,
            Value = size,
            Expected = tolerance?.Range is null ? first.Nominal : null,
            ExpectedRange = tolerance?.Range,
            Unit = unit,
        };
    }

    private static bool IsOff(Measurement measurement) =>
        measurement.SizeMeasured() is { } size && Tolerance.Of(measurement) is { } tolerance && !tolerance.Holds(size);

    private static string Of(string feature) => feature.Length == 0 ? "A size" : $"The size of {Words.Given(feature)}";

    private static string Outside(Tolerance? tolerance, Units.Unit unit) => tolerance switch
    {
        { Range: { } range } => $"outside {Words.Range(range, unit)}",
        { Low: { } low } => $"below {Words.With(low, unit)}",
        { High: { } high } => $"above {Words.With(high, unit)}",
        _ => "outside its tolerance",
    };

    private static string Others(SetupCase setupCase, List<Measurement> sizes, List<Measurement> off)
    {
        if (sizes.Count == 1) return "";
        var last = sizes[^1];
        var size = Words.With(last.SizeMeasured().GetValueOrDefault(), setupCase.Machine.Units);
        var verdict = IsOff(last) ? "outside" : "within";
        return $"; {Words.Number(off.Count)} of {Words.Count(sizes.Count, "measurement")} of it are outside, the last "
            + $"at {setupCase.Told(last.AtUtc)}, {size}, is {verdict}";
    }
}
