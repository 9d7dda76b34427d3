using System.Globalization;
using MathNet.Numerics.Distributions;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Tracing;

/// <summary>
/// Finds the offsets that may be wrong: what stood, minus what should have stood. What should have stood is the usual
/// value of this job, or the setup sheet's, or what stood before a change of it.
/// </summary>
internal sealed class SuspectFinder(TraceEvidence evidence, PartError error)
{
    // How likely such a thing is behind a bad part, against one for something that no source shows. Common practice, no
    // source: what was changed while parts ran is looked at first, then the datums that were set; a tool that nobody
    // touched has cut good parts before.
    private const double ChangedInProduction = 1;
    private const double DatumAgainstUsual = 0.3;
    private const double StaleDatum = 0.3;
    private const double ToolAgainstUsual = 0.05;
    private const double StaleTool = 0.005;
    private const double ToolChangedInSetup = 0.1;
    private const double DatumChangedInSetup = 0.05;

    // Common practice, no source: most corrections while parts run are right, and of some hundredths of a millimetre;
    // the others are a new tool or insert, of about any size, as a slip is.
    private const double RightAndSmall = 0.8;
    private const double CorrectionMm = 0.03;

    // A change of which the sources do not say whether it was made before or after the part.
    private const double MayHaveStood = 0.5;

    /// <summary>All suspects among the offsets that the feature depends on.</summary>
    public IReadOnlyList<Suspect> Find() => [.. Keys().SelectMany(Of)];

    /// <summary>The offsets that a feature cut in these registers by these tools depends on.</summary>
    private IEnumerable<OffsetKey> Keys()
    {
        var registers = Registers();
        var tools = Tools();
        return evidence.Table.States.Keys.Where(key => key.IsTool
            ? tools.Contains(key.Tool)
            : key.IsLinear && (key.Register.IsCommon || key.Register.IsG92 || registers.Contains(key.Register)));
    }

    private HashSet<Register> Registers()
    {
        if (error.Register is { } given) return [given];
        var cut = evidence.Case.Programs.SelectMany(use => use.Scope?.Registers ?? [])
            .Where(scope => scope.Cuts != false).Select(scope => scope.Register).ToHashSet();
        return cut.Count > 0 ? cut : [.. evidence.Table.Registers];
    }

    private HashSet<int> Tools()
    {
        if (error.Tool is { } given)
        {
            var offsets = evidence.Case.Programs.SelectMany(use => use.Scope?.Tools ?? [])
                .Where(tool => tool.Tool == given)
                .SelectMany(tool => new[] { tool.Length ?? given, tool.Diameter ?? given });
            return [given, .. offsets];
        }
        var called = evidence.Case.Programs.SelectMany(use => use.Scope?.Tools ?? [])
            .SelectMany(tool => new[] { tool.Tool, tool.Length ?? tool.Tool, tool.Diameter ?? tool.Tool }).ToHashSet();
        return called.Count > 0 ? called : [.. evidence.Table.Tools];
    }

    private IEnumerable<Suspect> Of(OffsetKey key)
    {
        if (evidence.Table[key] is not { Value: { } stood } state) return [];
        var until = evidence.Changes.LastOrDefault(item => item.Key == key && item.ToUtc <= evidence.AtUtc);
        var stale = state.SinceUtc < evidence.OpenedUtc;
        var suspects = AgainstUsual(key, stood, until, stale).Concat(Moved(key, stood, null));
        // A dump that came after the part may show what stood when it was cut; a touch after it cannot.
        if (evidence.Changes.FirstOrDefault(item => item.Key == key && item.ToUtc > evidence.AtUtc)
            is not { IsFirstSight: false, Touched: false, After: { } next } change
            || change.FromUtc >= evidence.AtUtc) return suspects;
        return suspects.Concat(AgainstUsual(key, next, change, stale: false).Concat(Moved(key, next, change))
            .Select(suspect => suspect with { Weight = suspect.Weight * MayHaveStood }));
    }

    /// <summary>What stood against the usual value of this job, or the sheet's. A wear has no usual value: it follows
    /// the tool.</summary>
    private IEnumerable<Suspect> AgainstUsual(OffsetKey key, decimal stood, Change? change, bool stale)
    {
        if (key.IsWear || !evidence.Expected.TryGetValue(key, out var usual) || usual.Value == stood) yield break;
        var expected = $"{usual.Says} {Text(usual.Value)}";
        var weight = key.IsTool
            ? stale ? StaleTool : ToolAgainstUsual
            : stale ? StaleDatum : DatumAgainstUsual;
        yield return new Suspect(key, change, (double)(stood - usual.Value), usual.Spread, weight, stale,
            stale ? $"it was not set in this setup and stood at {Text(stood)}, where {expected} was expected"
                : $"it stood at {Text(stood)}, where {expected} was expected")
        { Should = usual.Value };
    }

    /// <summary>What stood against what had stood before the last change, and before each earlier change of the
    /// setup.</summary>
    /// <param name="last">A change after the part that may have been made before it; null for none.</param>
    private IEnumerable<Suspect> Moved(OffsetKey key, decimal stood, Change? last)
    {
        var moves = evidence.Changes.Where(item => item.Key == key && !item.IsFirstSight && item.Delta != 0m
            && item.ToUtc <= evidence.AtUtc && item.ToUtc >= evidence.OpenedUtc).Reverse();
        var wrong = 0m;
        foreach (var move in last is null ? moves : moves.Prepend(last))
        {
            wrong += move.Delta ?? 0m;
            if (wrong == 0m) continue;
            yield return new Suspect(key, move, (double)wrong, 0, Weight(move, (double)wrong), Stale: false,
                $"it had been moved by {Text(wrong)} from {Text(stood - wrong)} to {Text(stood)}")
            { Should = stood - wrong };
        }
    }

    private double Weight(Change move, double wrong)
    {
        if (evidence.CuttingUtc is { } cutting && move.ToUtc > cutting) return ChangedInProduction * AsSlip(wrong);
        return move.Key.IsTool ? ToolChangedInSetup : DatumChangedInSetup;
    }

    // How much likelier a slip is to move an offset by so much than a right correction is.
    private double AsSlip(double wrong)
    {
        var usual = CorrectionMm * (evidence.Case.Machine.Units == Unit.Inch ? 1 / 25.4 : 1);
        var anySize = Tracer.AnySize(wrong, 0);
        return anySize / ((RightAndSmall * Normal.PDF(0, usual, wrong)) + ((1 - RightAndSmall) * anySize));
    }

    private static string Text(decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
