using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// The same program came back with other text between two cycles; where only comments differ, a note.
/// </summary>
internal sealed class ProgramChanged : IRule
{
    public string Name => "program-changed";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from starts in Starts(setupCase)
        from pair in Pairs(setupCase, starts.Key, starts.Value)
        from finding in Between(setupCase, starts.Key, pair.First, pair.Second)
        select finding;

    /// <summary>Each program's runs in order: the last before the setup, and those of the setup.</summary>
    private static IEnumerable<KeyValuePair<string, List<Run>>> Starts(SetupCase setupCase)
    {
        var runs = new SortedDictionary<string, List<Run>>(StringComparer.Ordinal);
        var cycles = setupCase.LastCycles.Values.Concat(setupCase.Setup.Cycles);
        foreach (var cycle in cycles.OrderBy(cycle => cycle.StartUtc))
        {
            if (cycle.Program is not { } program) continue;
            if (!runs.TryGetValue(program, out var own)) runs[program] = own = [];
            if (own.Count == 0 || own[^1].AtUtc < cycle.StartUtc) own.Add(new Run(cycle.StartUtc, cycle));
        }
        // A person asks: the next cycle would run the text as it is now.
        if (setupCase.Setup is { Judged: Judgement.Asked, JudgedUtc: { } askedUtc })
            foreach (var use in setupCase.Programs)
                if (runs.TryGetValue(use.Program, out var own) && own[^1].AtUtc < askedUtc)
                    own.Add(new Run(askedUtc, null));
        return runs.Where(pair => pair.Value.Count > 1);
    }

    /// <summary>The runs between which any text that the program calls was written; few, however many ran.</summary>
    private static IEnumerable<(Run First, Run Second)> Pairs(SetupCase setupCase, string program, List<Run> runs)
    {
        var written = setupCase.Shelf.Called(program, runs[^1].AtUtc)
            .SelectMany(text => setupCase.Shelf.Versions(text.Program)).Select(text => text.ModifiedUtc)
            .Where(momentUtc => momentUtc > runs[0].AtUtc && momentUtc <= runs[^1].AtUtc);
        return written.Select(momentUtc => runs.FindIndex(run => run.AtUtc >= momentUtc)).Distinct().Order()
            .Select(index => (runs[index - 1], runs[index]));
    }

    private IEnumerable<Finding> Between(SetupCase setupCase, string program, Run first, Run second)
    {
        if (IsAnotherPart(setupCase.Shelf, program, first, second)) yield break;
        var before = setupCase.Shelf.Called(program, first.AtUtc).ToDictionary(text => text.Program);
        foreach (var now in setupCase.Shelf.Called(program, second.AtUtc))
        {
            // A text read only later says nothing about what ran before it.
            if (!before.TryGetValue(now.Program, out var was) || was.ModifiedUtc > first.AtUtc) continue;
            if (was.Sha256 != now.Sha256) yield return Found(setupCase, program, was, now, first, second);
        }
    }

    private Finding Found(
        SetupCase setupCase, string program, ProgramText was, ProgramText now, Run first, Run second)
    {
        var onlyComments = was.WithoutCommentsSha256 == now.WithoutCommentsSha256;
        var called = now.Program == program ? "" : $", which {program} calls,";
        var how = onlyComments ? "comments, blanks or line numbers alone" : "what it does";
        var until = second.Cycle is null ? "now" : $"the cycle of {setupCase.Told(second.AtUtc)}";
        var message = $"{now.Program}{called} came back with other text, written "
            + $"{setupCase.Told(now.ModifiedUtc)}, between the cycle of "
            + $"{setupCase.Told(first.AtUtc)} and {until}: {how} may differ "
            + $"({Words.Number(was.Lines)} lines before, {Words.Number(now.Lines)} now).";
        return setupCase.Raise(this, onlyComments ? Severity.Note : Severity.High, Words.InId(now.Program), message,
            second.AtUtc,
            [new(was.File, was.Sha256, 1), new(now.File, now.Sha256, 1), first.Cycle?.Source, second.Cycle?.Source]);
    }

    // One number for every part: another title is another program (contract section 2).
    private static bool IsAnotherPart(ProgramShelf shelf, string program, Run first, Run second) =>
        shelf.At(program, first.AtUtc)?.Title is { } was && shelf.At(program, second.AtUtc)?.Title is { } now
        && !string.Equals(was, now, StringComparison.Ordinal);

    private sealed record Run(DateTimeOffset AtUtc, Cycle? Cycle);
}
