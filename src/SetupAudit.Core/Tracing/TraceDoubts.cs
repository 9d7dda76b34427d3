using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>What may make a question go wrong, in sentences: an answer of "nothing" is then no answer.</summary>
internal static class TraceDoubts
{
    // A measurement is rarely off by more than so many of its uncertainties.
    private const double Uncertainties = 3;

    public static IEnumerable<string> Of(TraceEvidence evidence, PartError error)
    {
        if (evidence.Table.States.Count == 0)
            yield return "no source had shown any offset of this machine by then: the part was cut before anything "
                + "that is known";
        if (evidence.AtUtc > evidence.LatestUtc)
            yield return string.Create(CultureInfo.InvariantCulture,
                $"no source says anything after {evidence.LatestUtc.UtcDateTime:yyyy-MM-dd HH:mm:ss}Z: what stood "
                + $"when the part was cut is taken from before");
        if (error.Register is { } register && evidence.Changes.All(change => !IsOf(change.Key, register)))
            yield return $"no source has ever shown {register}; shown are {Shown(evidence)}";
        foreach (var use in evidence.Case.Programs.Where(use => use is { Scope: null, Sheet: null }))
            if (evidence.Cycles.All(cycle => cycle.Program != use.Program))
                yield return $"no program, cycle or setup sheet of {evidence.Case.Machine.Name} is known as "
                    + use.Program;
        if (error.Tool is { } tool && evidence.Case.Programs is { Count: > 0 } programs
            && programs.All(use => use.Scope is { Missing.Count: 0 } scope
                && scope.Tools.All(call => call.Tool != tool)))
            yield return string.Create(CultureInfo.InvariantCulture,
                $"no program of this setup calls T{tool}: {string.Join(", ", programs.Select(use => use.Program))}");
    }

    private static bool IsOf(OffsetKey key, Register register) => key.IsDatum && key.Register == register;

    private static string Shown(TraceEvidence evidence)
    {
        var registers = evidence.Changes.Where(change => change.Key.IsDatum).Select(change => change.Key.Register);
        var names = registers.Distinct().Order().Select(register => register.ToString()).ToList();
        return names.Count == 0 ? "none" : string.Join(", ", names);
    }

    /// <summary>Which offset would explain an error along an axis if it were given with the other sign.</summary>
    public static string? OtherSign(
        string along, double measured, double uncertainty, IEnumerable<(Suspect Suspect, double Predicted)> parts)
    {
        var near = parts.Where(part => Math.Abs(measured + part.Predicted) <= Uncertainties * uncertainty).ToList();
        return near.Count == 0
            ? null
            : $"with the other sign along {along}, {near[0].Suspect.Key} would explain it: an error is measured minus "
                + "nominal";
    }
}
