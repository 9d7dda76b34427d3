using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>One rule of contract section 6. A pure function of the case.</summary>
public interface IRule
{
    /// <summary>As the contract names it, such as axis-not-set.</summary>
    string Name { get; }

    /// <summary>What a finding of it weighs unless a clause or the configuration says otherwise.</summary>
    Severity Default { get; }

    /// <summary>
    /// Whether it rests on the order of what two sources say: then no stop stands where their clocks disagree
    /// (contract section 2).
    /// </summary>
    bool RestsOnOrder => false;

    IEnumerable<Finding> Judge(SetupCase setupCase);
}
