using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// The program cuts in a register that this setup did not touch. A repeat of the same program in the same register,
/// with nothing else run between, is a note.
/// </summary>
internal sealed class DatumFromEarlier : IRule
{
    public string Name => "datum-from-earlier";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } judgedUtc) return [];
        var marks = SetMarks.OfAnyProgram(setupCase, judgedUtc).Where(mark => mark.Key.IsDatum)
            .ToLookup(mark => mark.Key.Register);
        return from cut in setupCase.CutRegisters()
               where !SetsAll(cut)
               group cut by cut.Register into cuts
               orderby cuts.Key
               let atUtc = cuts.Select(cut => cut.Use).JudgedWith(judgedUtc)
               where !marks[cuts.Key].Any(mark => mark.MayBeBy(atUtc))
                   && !setupCase.IsFixed(cuts.Key) && !IsEmptyLathe(setupCase, cuts.Key)
               select Found(setupCase, cuts.Key, [.. cuts], atUtc);
    }

    private Finding Found(SetupCase setupCase, Register register, List<CutRegister> cuts, DateTimeOffset atUtc)
    {
        var repeats = cuts.Select(cut => Repeat(setupCase, cut)).OfType<LastCut>().ToList();
        var isRepeat = repeats.Count == cuts.Count;
        var states = setupCase.Setup.After.Keys(register).Select(key => setupCase.Setup.After[key])
            .OfType<OffsetState>().ToList();
        var programs = Words.List(cuts.Select(cut => cut.Use.Program));
        var may = cuts.Exists(cut => cut.IsCertain)
            ? " cuts in "
            : " may cut (a program it calls has not been read) in ";
        var message = $"{programs}{may}{register}, which this setup did not touch: "
            + (isRepeat ? Repeated(setupCase, repeats[0]) : Stands(setupCase, states)) + "."
            + setupCase.Doubts(cuts.Select(cut => cut.Use));
        return setupCase.Raise(this, isRepeat ? Severity.Note : Severity.High, register, message, atUtc,
            states.Select(state => state.Source).Concat(cuts.Select(cut => cut.Use.Line(cut.Scope.Line)))
                .Concat(repeats.Select(last => last.Source)));
    }

    private static LastCut? Repeat(SetupCase setupCase, CutRegister cut) =>
        setupCase.CarriedBy(cut.Use, cut.Register) is { OthersSince: false } last ? last : null;

    private static string Repeated(SetupCase setupCase, LastCut last) =>
        $"{last.Program} was also the last to cut in it ({setupCase.Told(last.AtUtc)}), and nothing "
        + "else has run between";

    private static string Stands(SetupCase setupCase, List<OffsetState> states) => states.Count == 0
        ? "no source has shown its values"
        : $"its values have stood since {setupCase.Told(states.Max(state => state.SinceUtc))}";

    // What the program sets in every axis it moves in comes from the program and from no earlier setup.
    private static bool SetsAll(CutRegister cut) => cut.Scope.Axes.Count > 0
        && cut.Scope.Axes.All(axis => cut.Use.SetsItself(OffsetKey.Datum(cut.Register, axis)));

    private static bool IsEmptyLathe(SetupCase setupCase, Register register) => setupCase.Machine.IsLathe
        && setupCase.Setup.After.Keys(register).All(key => setupCase.Setup.After.Value(key) is null or 0m);
}
