using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>The program sets or shifts a datum itself: which, in which lines and blocks.</summary>
internal sealed class ProgramWritesDatum : IRule
{
    // A sentence with hundreds of blocks is none; the evidence lists them all.
    private const int BlocksMost = 5;

    public string Name => "program-writes-datum";

    public Severity Default => Severity.Note;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from use in setupCase.Programs.DistinctBy(use => use.Program)
        let writes = (use.Scope?.Writes ?? []).Where(write => write.Key.IsDatum).ToList()
        let probing = use.Cuts() ? use.Scope?.Probing.Where(move => move.Sets.Count > 0).ToList() ?? [] : []
        where writes.Count + probing.Count > 0
        select Found(setupCase, use, writes, probing);

    private Finding Found(SetupCase setupCase, ProgramUse use, List<ProgramWrite> writes, List<ProbingMove> probing)
    {
        var blocks = writes.GroupBy(write => (write.Program, write.Line, write.Text, write.Adds, write.Conditional))
            .Select(block => Block(setupCase, block.Key.Text, [.. block]))
            .Concat(probing.Select(Probed)).ToList();
        var more = blocks.Count > BlocksMost ? $"; and {Words.Number(blocks.Count - BlocksMost)} more" : "";
        var message = $"{use.Program} moves a datum itself: {string.Join("; ", blocks.Take(BlocksMost))}{more}."
            + setupCase.Doubts(use);
        var lines = writes.Select(write => setupCase.Line(use, write))
            .Concat(probing.Select(move => setupCase.Line(use, move)));
        return setupCase.Raise(this, Severity.Note, Words.InId(use.Program), message, use.AtUtc, lines) with
        {
            Register = Only(writes, probing),
        };
    }

    private static string Block(SetupCase setupCase, string text, List<ProgramWrite> writes)
    {
        var values = writes.Select(write => Named(write) + Value(setupCase, write));
        var when = !writes[0].Conditional ? ""
            : text.Contains('/', StringComparison.Ordinal) ? ", only where block delete is off"
            : ", only where the program does not jump over it";
        return $"{Line(writes[0].Line, writes[0].Program)} ({Words.Given(text)}) "
            + $"{(writes[0].Adds ? "shifts" : "sets")} {Words.List(values)}{when}";
    }

    private static string Line(int line, string? program) =>
        $"line {Words.Number(line)}{(program is null ? "" : $" of {program}")}";

    private static string Named(ProgramWrite write) => write.Target == ProgramWriteTarget.Unknown
        ? $"{Words.Axis(write.Key.Axis)} of a register that it works out while it runs"
        : Words.Name(write.Key);

    private static string Value(SetupCase setupCase, ProgramWrite write) => write.Value is { } value
        ? $" {(write.Adds ? "by" : "to")} {Words.With(value, write.Key.UnitOn(setupCase.Machine.Units))}"
        : " by what it works out while it runs";

    private static string Probed(ProbingMove move)
    {
        var register = move.Register is { } named ? named.ToString()
            : move.RegisterUnknown ? "a register that it works out while it runs"
            : "the register in force";
        return $"{Line(move.Line, move.Program)} ({Words.Given(move.Kind)}) sets "
            + $"{Words.List(move.Sets.Select(Words.Axis))} of {register} by probing";
    }

    private static Register? Only(List<ProgramWrite> writes, List<ProbingMove> probing)
    {
        var registers = writes
            .Select(write => write.Target == ProgramWriteTarget.Unknown ? null : (Register?)write.Key.Register)
            .Concat(probing.Select(move => move.Register)).Distinct().ToList();
        return registers.Count == 1 ? registers[0] : null;
    }
}
