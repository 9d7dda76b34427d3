using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>What the programs of a setup call, cut in and write, as several rules ask it.</summary>
internal static class ProgramFacts
{
    /// <summary>Registers that programs cut in; one that is called only to park is none.</summary>
    public static IEnumerable<CutRegister> CutRegisters(this SetupCase setupCase) =>
        from use in setupCase.Programs
        from scope in use.Scope?.Registers ?? []
        where scope.Cuts != false && scope.Register.HoldsDatum()
        select new CutRegister(use, scope);

    /// <summary>Whether the register holds the datum of a part; the common offset and G92 add to all.</summary>
    public static bool HoldsDatum(this Register register) => !register.IsCommon && !register.IsG92;

    /// <summary>Tools that programs change to, by the number of the offset that holds their length.</summary>
    public static IEnumerable<IGrouping<int, CalledTool>> CalledTools(this SetupCase setupCase) =>
        (from use in setupCase.Programs
         from tool in use.Scope?.Tools ?? []
         select new CalledTool(use, tool))
        .Where(called => called.Offset > 0)
        .GroupBy(called => called.Offset).OrderBy(group => group.Key);

    /// <summary>
    /// Whether the program sets the offset itself, whatever the setter does: a plain write or a probing call.
    /// </summary>
    public static bool SetsItself(this ProgramUse use, OffsetKey key) =>
        use.Scope is { } scope
        && (scope.Writes.Any(write => write.Writes(key) && !write.Adds && !write.Conditional)
            || scope.Probing.Any(move => move.SetsIn(key)));

    /// <summary>
    /// Whether the program is known to cut anywhere; one that only probes is no program that parts are made by.
    /// </summary>
    public static bool Cuts(this ProgramUse use) => use.Scope?.Registers.Any(scope => scope.Cuts != false) == true;

    /// <summary>Whether nothing it calls is unknown.</summary>
    public static bool IsWhole(this ProgramUse use) => use.Scope is { IsWhole: true };

    /// <summary>A line of the program's own text; null where its text is not known.</summary>
    public static SourceLine? Line(this ProgramUse use, int line) =>
        use.Text is { } text ? new SourceLine(text.File, text.Sha256, Math.Max(line, 1)) : null;

    /// <summary>The line of a write, in the program itself or in one that it calls.</summary>
    public static SourceLine? Line(this SetupCase setupCase, ProgramUse use, ProgramWrite write) =>
        write.Source ?? setupCase.Line(use, write.Line, text => text.Writes.Contains(write));

    /// <summary>The line of a probing move, in the program itself or in one that it calls.</summary>
    public static SourceLine? Line(this SetupCase setupCase, ProgramUse use, ProbingMove move) =>
        move.Source ?? setupCase.Line(use, move.Line, text => text.Probing.Contains(move));

    private static SourceLine? Line(
        this SetupCase setupCase, ProgramUse use, int line, Func<ProgramText, bool> holds)
    {
        var own = use.Text;
        var text = own is not null && holds(own)
            ? own
            : setupCase.Shelf.Called(use.Program, use.AtUtc).FirstOrDefault(holds);
        return text is null ? use.Line(line) : new SourceLine(text.File, text.Sha256, Math.Max(line, 1));
    }

    /// <summary>The texts of a program and of all that it calls, as they were at a moment; each once.</summary>
    public static IReadOnlyList<ProgramText> Called(
        this ProgramShelf shelf, string program, DateTimeOffset momentUtc) =>
        shelf.Scope(program, momentUtc)?.Texts ?? [];

    /// <summary>
    /// Whether this program was the last to cut in the register before the setup: same name, same title.
    /// </summary>
    public static LastCut? CarriedBy(this SetupCase setupCase, ProgramUse use, Register register) =>
        setupCase.LastCuts.TryGetValue(register, out var last) && last.Program == use.Program
            && string.Equals(last.Title, use.Text?.Title, StringComparison.Ordinal)
            ? last
            : null;

    /// <summary>Whether the offset stands as it stood when that program last cut with it.</summary>
    public static bool HasStoodSince(this OffsetState? state, LastCut last) =>
        state is { Value: not null } && state.SinceUtc <= last.AtUtc;

    /// <summary>
    /// Whether X of a lathe's register may stand at zero, or be unsaid, because the geometry of the tools holds it.
    /// </summary>
    public static bool IsXByGeometry(this SetupCase setupCase, Register register) =>
        setupCase.Machine.IsLathe && setupCase.Setup.After.Value(register, Axis.X) is null or 0m;

    /// <summary>
    /// A sentence where what was read of a program has a weakness that the finding shares; empty where it has none.
    /// </summary>
    public static string Doubts(this SetupCase setupCase, params IEnumerable<ProgramUse> uses)
    {
        var all = uses.DistinctBy(use => use.Program).ToList();
        var later = all.Where(use => use.TextIsLater && use.Text is not null).Select(use =>
            $" The text of {use.Program} was only read from a later version "
            + $"({setupCase.Told(use.Text?.ModifiedUtc ?? use.AtUtc)}).");
        var guessed = all.Where(use => use.ByLookback).Select(use =>
            $" No print-out named {use.Program}: it is taken for this setup's program because its file was written "
            + "shortly before.");
        return string.Concat(later.Concat(guessed));
    }
}
