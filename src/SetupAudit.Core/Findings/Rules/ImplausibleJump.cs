using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>The value that stands when cutting starts is far from what this machine, register and program have shown
/// before.</summary>
public sealed class ImplausibleJump : IRule
{
    public string Name => "implausible-jump";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.Setup.JudgedUtc is null) yield break;
        var plausibility = new Plausibility(setupCase);
        var ranking = new CauseRanking(setupCase, plausibility);
        foreach (var key in Keys(setupCase))
            if (setupCase.Setup.After.Value(key) is { } value && plausibility.IsImplausible(key, value)
                && plausibility.Of(key) is { } usual)
                yield return Finding(setupCase, key, value, ranking.Rank(key, value),
                    usual.Location, Jump.Says(setupCase, key, value, usual, plausibility.ProgramOf(key)));
    }

    /// <summary>The linear axes of the registers that the programs cut in; where no program is known, or the text of
    /// one, of those that were set.</summary>
    private static IEnumerable<OffsetKey> Keys(SetupCase setupCase)
    {
        var cut = setupCase.Programs.SelectMany(use => use.Scope?.Registers ?? [])
            .Where(scope => scope.Cuts != false).Select(scope => scope.Register).ToHashSet();
        if (setupCase.Programs.All(use => use.Scope is null))
            cut.UnionWith(setupCase.Setup.Changes.Where(change => change.Key.IsDatum && !change.IsFirstSight)
                .Select(change => change.Key.Register));
        return setupCase.Setup.After.States.Keys.Where(key => key.IsLinear && cut.Contains(key.Register));
    }

    private Finding Finding(
        SetupCase setupCase, OffsetKey key, decimal value, IReadOnlyList<Cause> causes, decimal usual, string says) =>
            new()
            {
                Id = $"{setupCase.Setup.Id}/{Name}/{key}",
                Rule = Name,
                Severity = Default,
                Machine = setupCase.Machine.Name,
                Setup = setupCase.Setup.Id,
                Register = key.Register,
                Axis = key.Axis,
                Value = value,
                Expected = Jump.Rounded(usual, setupCase),
                Message = $"{key.Axis} of {key.Register} stands at {says}; {Jump.Likeliest(causes)}.",
                AtUtc = setupCase.Setup.JudgedUtc ?? setupCase.Setup.OpenedUtc,
                Evidence = Jump.Evidence(setupCase, key),
                Causes = causes,
            };
}
