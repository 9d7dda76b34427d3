using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>The rules, in the contract's order, and what the configuration makes of their severity.</summary>
public static class RuleBook
{
    public static IReadOnlyList<IRule> Rules { get; } = [];

    /// <summary>Every finding of a setup, in the order of the rules and then of ids.</summary>
    public static IReadOnlyList<Finding> Judge(SetupCase setupCase) =>
        [.. Rules.SelectMany(rule => rule.Judge(setupCase))];
}
