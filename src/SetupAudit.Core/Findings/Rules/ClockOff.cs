using System.Globalization;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A file's time and the share's clock disagree, or go backwards. It belongs to no setup, and is withdrawn when the
/// clocks agree again.
/// </summary>
internal sealed class ClockOff : IRule
{
    public string Name => "clock-off";

    public Severity Default => Severity.Note;

    public IEnumerable<Finding> Judge(SetupCase setupCase) => [];

    /// <param name="what">Which of the clocks of a source it is about, for the id.</param>
    public Finding Of(MachineConfig machine, WatchConfig watch, ClockSkew skew, string what) => new()
    {
        Id = string.Create(CultureInfo.InvariantCulture,
            $"{machine.Name}@{skew.SinceUtc:yyyyMMdd-HHmmss}/{Name}/{Words.InId(watch.Folder)}/{what}"),
        Rule = Name,
        Severity = Default,
        Machine = machine.Name,
        Message = $"{Words.Begin(skew.Says)}. What came before and what after may be told wrongly until both clocks "
            + "are right.",
        AtUtc = skew.SinceUtc,
        Evidence = [skew.Last],
    };
}
