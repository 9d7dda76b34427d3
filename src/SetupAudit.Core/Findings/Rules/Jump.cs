using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>The words and evidence that the rules on implausible datums and tools share.</summary>
internal static class Jump
{
    public static decimal Rounded(decimal value, SetupCase setupCase) =>
        Math.Round(value / setupCase.Machine.Resolution) * setupCase.Machine.Resolution;

    /// <summary>"-298.204 mm, 20.000 mm above the usual -318.204 of 5 earlier setups of O2041, which spread by 0.021
    /// mm".</summary>
    public static string Says(
        SetupCase setupCase, OffsetKey key, decimal value, Usual usual, ProgramUse? use)
    {
        var unit = Length.ShortName(setupCase.Machine.Units);
        var distance = value - usual.Location;
        var apart = $"{Text(Rounded(Math.Abs(distance), setupCase))} {unit} {Words.Beyond(key, distance)}";
        return $"{Text(value)} {unit}, {apart} {Basis(setupCase, usual, unit, use)}";
    }

    private static string Basis(SetupCase setupCase, Usual usual, string unit, ProgramUse? use)
    {
        var location = Text(Rounded(usual.Location, setupCase));
        if (usual.Count == 0) return $"the middle of the setup sheet's range, {location}";
        var program = use is null ? "" : $" of {use.Program}";
        var spread = Text(Rounded((decimal)usual.Spread, setupCase));
        if (usual.By is { } register)
            return $"the {location} that its usual distance to {register} gives, which in {usual.Count} earlier setups"
                + $"{program} spread by about {spread} {unit} ({register} may be the one that is wrong)";
        return $"the usual {location} of {usual.Count} earlier setups{program}, which spread by about {spread} {unit}";
    }

    public static string Likeliest(IReadOnlyList<Cause> causes) => causes.Count == 0
        ? "no ordinary mistake explains it"
        : $"the likeliest cause, by estimate, is {causes[0].Name} ({Percent(causes[0])} %): {causes[0].Because}";

    private static string Percent(Cause cause) =>
        (cause.Probability * 100).ToString("0", CultureInfo.InvariantCulture);

    private static string Text(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>The line that shows the value, and what says who brought it.</summary>
    public static IReadOnlyList<SourceLine> Evidence(SetupCase setupCase, OffsetKey key)
    {
        var state = setupCase.Setup.After[key];
        var change = setupCase.Setup.Changes.Concat(setupCase.Setup.Adjustments)
            .LastOrDefault(item => item.Id == state?.Change);
        SourceLine?[] lines = [state?.Source, change?.BySource];
        return [.. lines.OfType<SourceLine>().Distinct()];
    }
}
