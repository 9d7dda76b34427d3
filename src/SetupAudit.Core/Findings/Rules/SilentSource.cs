using System.Globalization;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A source that usually writes has stopped. It belongs to no setup: <see cref="Of"/> judges a source as of the
/// horizon, and what it says is withdrawn when the source writes again.
/// </summary>
internal sealed class SilentSource : IRule
{
    private const int LeastWritings = 20;
    private const int LeastDays = 3;

    public string Name => "silent-source";

    public Severity Default => Severity.Low;

    public IEnumerable<Finding> Judge(SetupCase setupCase) => [];

    /// <summary>Null where it writes, or where too little is known of when it does.</summary>
    public Finding? Of(
        ShopConfig shop, MachineConfig machine, WatchConfig watch, SourceBeat beat, DateTimeOffset horizonUtc)
    {
        if (beat.Count < LeastWritings) return null;
        var usual = new UsualHours(beat, shop);
        if (usual.Days < LeastDays) return null;
        if (usual.SilentFrom(SourceBeat.HourOf(beat.LastUtc), horizonUtc) is not { } silent) return null;
        var interval = beat.UsualGap is { } gap ? $", usually every {Words.Span(gap)}" : "";
        var hours = silent.Hours == 0 ? "" : $", {Words.Count(silent.Hours, "hour")} in which it mostly writes";
        return new Finding
        {
            Id = string.Create(CultureInfo.InvariantCulture,
                $"{machine.Name}@{silent.AtUtc:yyyyMMdd-HHmmss}/{Name}/{Words.InId(watch.Folder)}"),
            Rule = Name,
            Severity = Default,
            Machine = machine.Name,
            Message = $"{watch.Folder} has been silent since {ShopTime.Text(beat.LastUtc, shop)}: "
                + $"{Words.Span(silent.AtUtc - beat.LastUtc)} by {ShopTime.Near(silent.AtUtc, beat.LastUtc, shop)}"
                + $"{hours}{interval}. What happened since is unknown; see whether it still writes.",
            AtUtc = silent.AtUtc,
            Evidence = [beat.Last],
        };
    }

    /// <summary>The agent of a source was started anew, and told nothing while it was down.</summary>
    public Finding OfRestart(ShopConfig shop, MachineConfig machine, Sighting sighting, DateTimeOffset? lastUtc)
    {
        var folder = machine.Watch.FirstOrDefault(watch => watch.Index == sighting.Source)?.Folder ?? sighting.File;
        var since = lastUtc is { } last
            ? $"between {ShopTime.Text(last, shop)} and {ShopTime.Near(sighting.AtUtc, last, shop)}"
            : $"before {ShopTime.Text(sighting.AtUtc, shop)}";
        return new Finding
        {
            Id = string.Create(CultureInfo.InvariantCulture,
                $"{machine.Name}@{sighting.AtUtc:yyyyMMdd-HHmmss}/{Name}/{Words.InId(folder)}/began-anew"),
            Rule = Name,
            Severity = Default,
            Machine = machine.Name,
            Message = $"The agent that writes to {folder} was started anew: what happened {since} and was not read by "
                + "then is unknown.",
            AtUtc = sighting.AtUtc,
            Evidence = [sighting.At(sighting.Line)],
        };
    }
}
