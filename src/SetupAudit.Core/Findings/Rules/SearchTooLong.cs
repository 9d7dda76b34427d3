using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A probing search is longer than the standoff warrants: with the part missing, the probe body may be hit.
/// </summary>
internal sealed class SearchTooLong : IRule
{
    // Common practice, no source: a surface search stands 0.25 in (6.35 mm) above the part and searches 1.0 in, which
    // is 0.75 in (19.05 mm) past the surface; 5 in from there is too long.
    private static decimal UsualStandoff(Unit unit) => unit == Unit.Inch ? 0.25m : 6.35m;

    private static decimal UsualPast(Unit unit) => unit == Unit.Inch ? 0.75m : 19.05m;

    public string Name => "search-too-long";

    public Severity Default => Severity.Low;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from use in setupCase.Programs.DistinctBy(use => use.Program)
        let moves = (use.Scope?.Probing ?? []).Where(move => Excess(setupCase.Machine, move) > 0m)
            .OrderByDescending(move => Excess(setupCase.Machine, move)).ThenBy(move => move.Line).ToList()
        where moves.Count > 0
        select Found(setupCase, use, moves);

    private Finding Found(SetupCase setupCase, ProgramUse use, List<ProbingMove> moves)
    {
        var unit = setupCase.Machine.Units;
        var longest = moves[0];
        var search = Math.Abs(longest.Search.GetValueOrDefault());
        var more = moves.Count == 1 ? "" : $" ({Words.Count(moves.Count, "probing move")} of it are too long)";
        var message = $"{use.Program} line {Words.Number(longest.Line)} searches {Words.With(search, unit)} for a "
            + $"surface{more}, longer than {Says(setupCase.Machine, longest)}: with the part missing, the probe body "
            + "may be hit."
            + setupCase.Doubts(use);
        return setupCase.Raise(this, Severity.Low, Words.InId(use.Program), message, use.AtUtc,
            moves.Select(move => setupCase.Line(use, move))) with
        {
            Value = search,
            Expected = Longest(setupCase.Machine, longest),
            Unit = unit,
        };
    }

    private static decimal Excess(MachineConfig machine, ProbingMove move) =>
        move.Search is { } search ? Math.Abs(search) - Longest(machine, move) : 0m;

    private static decimal Longest(MachineConfig machine, ProbingMove move) =>
        machine.Search ?? (Known(machine, move) ?? UsualStandoff(machine.Units)) + UsualPast(machine.Units);

    private static decimal? Known(MachineConfig machine, ProbingMove move) =>
        move.Standoff is { } own ? Math.Abs(own) : machine.Standoff;

    private static string Says(MachineConfig machine, ProbingMove move)
    {
        var longest = Words.With(Longest(machine, move), machine.Units);
        if (machine.Search is not null) return $"the {longest} that is configured as the longest for this machine";
        var past = Words.With(UsualPast(machine.Units), machine.Units);
        return Known(machine, move) is { } standoff
            ? $"the {longest} that a start {Words.With(standoff, machine.Units)} above the surface warrants "
                + $"({past} past it)"
            : $"the {longest} that is common practice";
    }
}
