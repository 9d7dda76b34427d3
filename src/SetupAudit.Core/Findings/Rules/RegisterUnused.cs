using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>This setup set a register that no program of the setup calls, and those programs are known.</summary>
internal sealed class RegisterUnused : IRule
{
    public string Name => "register-unused";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } atUtc || !AreKnown(setupCase)) return [];
        return SetMarks.Of(setupCase)
            .Where(mark => mark.Key.IsDatum && mark.How != "program" && mark.Key.Register.HoldsDatum())
            .GroupBy(mark => mark.Key.Register).OrderBy(group => group.Key)
            .Where(group => !IsCalled(setupCase, group.Key))
            .Select(group => Found(setupCase, group.Key, [.. group], atUtc));
    }

    private Finding Found(SetupCase setupCase, Register register, List<SetMark> marks, DateTimeOffset atUtc)
    {
        var cutting = setupCase.Programs.Where(use => use.Cuts()).ToList();
        var axes = Words.List(marks.Select(mark => mark.Key.Axis).Distinct().Order().Select(Words.Axis));
        var calls = cutting.SelectMany(use => use.Scope?.Registers ?? []).Where(scope => scope.Cuts != false)
            .Select(scope => scope.Register).Distinct().Order().Select(called => called.ToString());
        var set = marks.Select(mark => mark.Key).Distinct().Count() == 1 ? "was" : "were";
        var programs = Words.List(cutting.Select(use => use.Program));
        var by = setupCase.Told(marks[^1].AtUtc, atUtc);
        var message = $"{axes} of {register} {set} set by {by}, and no program of this setup calls {register}: "
            + $"{programs} {(cutting.Count == 1 ? "cuts" : "cut")} in "
            + $"{Words.List(calls)}."
            + setupCase.Doubts(cutting);
        return setupCase.Raise(this, Severity.High, register, message, atUtc,
            marks.Select(mark => mark.Source).Concat(cutting.Select(use => use.Line(1))));
    }

    // A program that only probes sets registers for another one, which is still to come.
    private static bool AreKnown(SetupCase setupCase) =>
        setupCase.Programs.Any(use => use.Cuts()) && setupCase.Programs.All(use => use.IsWhole());

    private static bool IsCalled(SetupCase setupCase, Register register) => setupCase.Programs
        .Where(use => use.Cuts())
        .Any(use => use.Scope?.Registers.Any(scope => scope.Register == register) == true);
}
