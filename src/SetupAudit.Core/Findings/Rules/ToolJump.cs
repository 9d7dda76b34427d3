using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>A tool length or wear moved implausibly for this program and sheet.</summary>
public sealed class ToolJump : IRule
{
    public string Name => "tool-jump";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.Setup.JudgedUtc is not { } judgedUtc) yield break;
        var plausibility = new Plausibility(setupCase);
        var ranking = new CauseRanking(setupCase, plausibility);
        var called = Called(setupCase);
        foreach (var (key, state) in setupCase.Setup.After.States)
            if (key.IsTool && called.Contains(key.Tool) && state.Value is { } value && value != 0m
                && plausibility.IsImplausible(key, value))
                yield return Finding(setupCase, plausibility, ranking, key, value, judgedUtc);
        // In production only wears move without opening the next setup: the last word on each counts.
        foreach (var change in setupCase.Setup.Adjustments
            .Where(change => change.Key.IsWear && called.Contains(change.Key.Tool))
            .GroupBy(change => change.Key).Select(group => group.Last()))
            if (change.After is { } value && value != setupCase.Setup.After.Value(change.Key)
                && plausibility.IsImplausible(change.Key, value))
                yield return Finding(setupCase, plausibility, ranking, change.Key, value, change.ToUtc);
    }

    private static HashSet<int> Called(SetupCase setupCase)
    {
        var tools = setupCase.Programs.SelectMany(use => use.Scope?.Tools ?? [])
            .SelectMany(tool => new[] { tool.Tool, tool.Length ?? tool.Tool, tool.Diameter ?? tool.Tool }).ToHashSet();
        if (setupCase.Programs.All(use => use.Scope is null))
            tools.UnionWith(setupCase.Setup.Changes.Where(change => change.Key.IsTool && !change.IsFirstSight)
                .Select(change => change.Key.Tool));
        return tools;
    }

    private Finding Finding(
        SetupCase setupCase, Plausibility plausibility, CauseRanking ranking, OffsetKey key, decimal value,
            DateTimeOffset moment)
    {
        var usual = plausibility.Of(key) ?? throw new InvalidOperationException("a jump without a usual value");
        var causes = ranking.Rank(key, value);
        return new Finding
        {
            Id = $"{setupCase.Setup.Id}/{Name}/{key}",
            Rule = Name,
            Severity = Default,
            Machine = setupCase.Machine.Name,
            Setup = setupCase.Setup.Id,
            Tool = key.Tool,
            Of = key.Part,
            Value = value,
            Expected = Jump.Rounded(usual.Location, setupCase),
            Message = $"{ToolPartName.Of(key.Part)} of T{key.Tool} stands at "
                + $"{Jump.Says(setupCase, key, value, usual, plausibility.ProgramOf(key))}; {Jump.Likeliest(causes)}.",
            AtUtc = moment,
            Evidence = Jump.Evidence(setupCase, key),
            Causes = causes,
        };
    }
}
