using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// Some axis of a register was set and another that the job needs was not, by the time cutting starts or the setup goes
/// quiet. The usual one: X and Y from a corner, Z forgotten.
/// </summary>
internal sealed class AxisNotSet : IRule
{
    public string Name => "axis-not-set";

    public Severity Default => Severity.Stop;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } judgedUtc) return [];
        var marks = SetMarks.OfAnyProgram(setupCase, judgedUtc);
        var registers = marks.Where(mark => mark.Key.IsDatum && mark.Key.Register.HoldsDatum())
            .Select(mark => mark.Key.Register).Distinct().Order();
        var axes = from register in registers
                   from asked in AskedAxes.Of(setupCase, register)
                   select Found(setupCase, asked, key => key.IsDatum && key.Register == register, marks, judgedUtc);
        var lengths = setupCase.Machine.ZFromToolLengths ? Lengths(setupCase, marks, judgedUtc) : [];
        return axes.Concat(lengths).OfType<Finding>();
    }

    /// <summary>Where Z comes from tool lengths, a new part asks for every called tool's length.</summary>
    private IEnumerable<Finding?> Lengths(
        SetupCase setupCase, IReadOnlyList<SetMark> marks, DateTimeOffset judgedUtc)
    {
        var part = setupCase.Machine.IsLathe ? ToolPart.Z : ToolPart.Length;
        foreach (var tools in setupCase.CalledTools())
        {
            var key = OffsetKey.OfTool(tools.Key, part);
            var uses = tools.Select(called => called.Use).Distinct().ToList();
            if (uses.Exists(use => use.SetsItself(key))) continue;
            if (tools.All(called => called.Tool.Tool == setupCase.Machine.ProbeTool)) continue;
            var asked = new AskedAxis(key)
            {
                Programs = uses,
                Evidence = [.. tools.Select(called => called.Use.Line(called.Tool.Line)).OfType<SourceLine>()],
            };
            yield return Found(setupCase, asked,
                begun => begun.IsDatum && uses.Exists(use => IsCutIn(use, begun.Register)), marks, judgedUtc);
        }
    }

    /// <summary>Null where nothing of the register was set by then, or the axis itself was.</summary>
    private Finding? Found(
        SetupCase setupCase, AskedAxis asked, Func<OffsetKey, bool> isBegun, IReadOnlyList<SetMark> marks,
        DateTimeOffset judgedUtc)
    {
        var atUtc = asked.Programs.Concat(OfSheets(setupCase, asked)).JudgedWith(judgedUtc);
        var by = marks.Where(mark => mark.MayBeBy(atUtc)).ToList();
        if (by.Exists(mark => mark.Key == asked.Key)) return null;
        var begun = by.Where(mark => isBegun(mark.Key)).ToList();
        return begun.Count == 0 ? null : Found(setupCase, asked, begun, atUtc);
    }

    private Finding Found(SetupCase setupCase, AskedAxis asked, List<SetMark> marks, DateTimeOffset atUtc)
    {
        var state = setupCase.Setup.After[asked.Key];
        var last = Carried(setupCase, asked, marks, state);
        var severity = last is not null ? Severity.Note
            : asked.IsByUnknown || !setupCase.TellsTouches ? Severity.High
            : Severity.Stop;
        var evidence = marks.Select(mark => mark.Source).Concat(asked.Evidence)
            .Append(state?.Source).Append(last?.Source);
        var message = Words.Begin(Words.Name(asked.Key)) + Says(setupCase, asked, marks, last)
            + Stands(setupCase, asked.Key, state) + "." + setupCase.Doubts(asked.Programs);
        return setupCase.Raise(this, severity, asked.Key, message, atUtc, evidence) with { Value = state?.Value };
    }

    private static string Says(SetupCase setupCase, AskedAxis asked, List<SetMark> marks, LastCut? last)
    {
        var set = HowSet(setupCase, asked.Key, marks);
        if (last is not null)
            return $" was carried over: {last.Program} was the last to cut in {RegisterOf(asked.Key, marks)} "
                + $"({setupCase.Told(last.AtUtc)}) and it has not moved since, while {set}; ";
        return setupCase.TellsTouches
            ? $" was not set: {set}, and {asked.Because}; "
            : $": no change seen, while {set}, and {asked.Because}; no print-out here could tell a touch that gave the "
                + "same value again, and ";
    }

    /// <summary>"X and Y were set at 07:14 (print-out)".</summary>
    private static string HowSet(SetupCase setupCase, OffsetKey asked, List<SetMark> marks)
    {
        var of = asked.IsTool ? $" of {Words.List(marks.Select(mark => mark.Key.Register.ToString()))}" : "";
        var names = Words.List(marks.Select(mark => mark.Key.Axis).Distinct().Order().Select(Words.Axis));
        var verb = marks.Select(mark => mark.Key).Distinct().Count() == 1 ? "was" : "were";
        var how = Words.List(marks.Select(mark => mark.How).Distinct().Order(StringComparer.Ordinal));
        return $"{names}{of} {verb} set {When(setupCase, marks)} ({how})";
    }

    private static string When(SetupCase setupCase, List<SetMark> marks)
    {
        var last = marks[^1];
        var referenceUtc = setupCase.JudgedAt() ?? last.AtUtc;
        var at = setupCase.Told(last.AtUtc, referenceUtc);
        if (last.FromUtc is { } fromUtc)
        {
            var from = setupCase.Told(fromUtc, referenceUtc);
            // Behind a day that is told, a time alone would be read as of that day.
            var isOtherDay = from == setupCase.Told(fromUtc);
            return $"between {from} and {(isOtherDay ? setupCase.Told(last.AtUtc, fromUtc) : at)}";
        }
        return marks.Exists(mark => setupCase.Told(mark.AtUtc, referenceUtc) != at)
            ? $"by {at}"
            : $"at {at}";
    }

    private static string Stands(SetupCase setupCase, OffsetKey key, OffsetState? state)
    {
        if (state is null) return "no source has shown its value";
        if (state.Value is not { } value) return "the control holds no value for it";
        return $"it stood at {Words.With(value, key.UnitOn(setupCase.Machine.Units))} from "
            + setupCase.Told(state.SinceUtc);
    }

    // A tool's length belongs to no register: it is carried over with the register that the program cut in.
    private static LastCut? Carried(SetupCase setupCase, AskedAxis asked, List<SetMark> marks, OffsetState? state)
    {
        var registers = asked.Key.IsTool
            ? marks.Select(mark => mark.Key.Register).Distinct()
            : [asked.Key.Register];
        return asked.Programs.Concat(OfSheets(setupCase, asked))
            .SelectMany(use => registers.Select(register => setupCase.CarriedBy(use, register)))
            .FirstOrDefault(last => last is not null && state.HasStoodSince(last));
    }

    private static IEnumerable<ProgramUse> OfSheets(SetupCase setupCase, AskedAxis asked) =>
        setupCase.Programs.Where(use => use.Sheet is not null && asked.Sheets.Contains(use.Sheet));

    private static bool IsCutIn(ProgramUse use, Register register) =>
        use.Scope?.Registers.Any(scope => scope.Register == register && scope.Cuts != false) == true;

    private static string RegisterOf(OffsetKey key, List<SetMark> marks) =>
        (key.IsTool ? marks[^1].Key.Register : key.Register).ToString();
}
