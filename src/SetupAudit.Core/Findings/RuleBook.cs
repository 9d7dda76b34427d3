using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Findings.Rules;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>The rules, in the contract's order, and what the configuration makes of their severity.</summary>
public static class RuleBook
{
    private static readonly SilentSource Silences = new();
    private static readonly ClockOff Clocks = new();
    private static readonly Unreadable Arrivals = new();

    public static IReadOnlyList<IRule> Rules { get; } =
    [
        new AxisNotSet(),
        new DatumEmpty(),
        new DatumFromEarlier(),
        new RegisterUnused(),
        new FixedMoved(),
        new MemoryLost(),
        new ImplausibleJump(),
        new OutsideTravel(),
        new OutsideSheet(),
        new OverLimit(),
        new Drift(),
        new CommonOffset(),
        new RemeasuredApart(),
        new SizeOff(),
        new AngleNotApplied(),
        new SurfaceNotFound(),
        new SearchTooLong(),
        new ToolNotSet(),
        new ToolJump(),
        new ChangedWhileCutting(),
        new ProgramWritesDatum(),
        new ProgramChanged(),
        new ValuesRestored(),
        new SameInTwo(),
        Silences,
        Clocks,
        Arrivals,
        new Lifted(),
    ];

    /// <summary>Every finding of a setup, in the order of their moments and then of ids, each id once.</summary>
    public static IReadOnlyList<Finding> Judge(SetupCase setupCase)
    {
        ArgumentNullException.ThrowIfNull(setupCase);
        var found = new List<Finding>();
        foreach (var rule in Rules)
        {
            if (IsOff(rule, setupCase.Shop)) continue;
            var held = rule.Judge(setupCase).Select(finding => Weigh(finding, rule, setupCase));
            found.AddRange(Distinct(InOrder(held)));
        }
        return InOrder(found);
    }

    /// <summary>
    /// An arrival that could not be read, or only in part; null where nothing was amiss or the rule is off.
    /// </summary>
    /// <param name="machine">Empty for a setup sheet.</param>
    public static Finding? JudgeArrival(
        ShopConfig shop, string machine, string file, string sha256, DateTimeOffset atUtc, ArrivalStatus status,
        IReadOnlyList<Fault> faults)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(faults);
        return !IsOff(Arrivals, shop) && Arrivals.Of(machine, file, sha256, atUtc, status, faults) is { } finding
            ? finding with { Severity = Configured(finding.Severity, Arrivals, shop) }
            : null;
    }

    /// <summary>The same for a sighting as the fold sees it.</summary>
    public static Finding? JudgeArrival(ShopConfig shop, string machine, Sighting sighting)
    {
        ArgumentNullException.ThrowIfNull(sighting);
        // Faults of a program, print-out or sheet stand alone: one that names a line was met while reading went on.
        var isRead = sighting.Offsets is { Count: > 0 } || sighting.Print is not null || sighting.Measured.Count > 0
            || (sighting.Offsets is null && sighting.Faults.Any(fault => fault.Line > 0));
        return JudgeArrival(shop, machine, sighting.File, sighting.Sha256, sighting.AtUtc,
            sighting.Status ?? (isRead ? ArrivalStatus.Partial : ArrivalStatus.Unreadable), sighting.Faults);
    }

    /// <summary>An arrival that came after evidence up to its moment was dropped; null where the rule is off.</summary>
    public static Finding? JudgeTooLate(ShopConfig shop, string machine, Sighting sighting, string because)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(sighting);
        return IsOff(Arrivals, shop) ? null : Arrivals.OfTooLate(machine, sighting, because) is var finding
            ? finding with { Severity = Configured(finding.Severity, Arrivals, shop) }
            : null;
    }

    /// <summary>Observations of an agent that no document holds; null where the rule is off.</summary>
    public static Finding? JudgeLoss(ShopConfig shop, string machine, Sighting sighting, ulong from, ulong until)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(sighting);
        return IsOff(Arrivals, shop) ? null : Arrivals.OfLoss(machine, sighting, from, until) is var finding
            ? finding with { Severity = Configured(finding.Severity, Arrivals, shop) }
            : null;
    }

    /// <summary>An agent began anew: what happened meanwhile is unknown. Null where the rule is off.</summary>
    public static Finding? JudgeRestart(
        ShopConfig shop, MachineConfig machine, Sighting sighting, DateTimeOffset? lastUtc)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(machine);
        ArgumentNullException.ThrowIfNull(sighting);
        return IsOff(Silences, shop) ? null : Silences.OfRestart(shop, machine, sighting, lastUtc) is var finding
            ? finding with { Severity = Configured(finding.Severity, Silences, shop) }
            : null;
    }

    /// <summary>
    /// What stands against a machine's source as of the horizon: that it is silent, that its clocks disagree.
    /// </summary>
    public static IEnumerable<Finding> JudgeSource(
        ShopConfig shop, MachineConfig machine, WatchConfig watch, SourceSight sight, DateTimeOffset horizonUtc)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(machine);
        ArgumentNullException.ThrowIfNull(watch);
        ArgumentNullException.ThrowIfNull(sight);
        var silence = sight.Beat is { } beat ? Silences.Of(shop, machine, watch, beat, horizonUtc) : null;
        if (silence is not null && !IsOff(Silences, shop))
            yield return silence with { Severity = Configured(silence.Severity, Silences, shop) };
        if (IsOff(Clocks, shop)) yield break;
        foreach (var (skew, what) in new[] { (sight.Print, "print"), (sight.File, "file") })
            if (skew is not null && Clocks.Of(machine, watch, skew, what) is var finding)
                yield return finding with { Severity = Configured(finding.Severity, Clocks, shop) };
    }

    /// <summary>The name of a source as it ends the ids of what stands against it.</summary>
    public static string NameInId(WatchConfig watch)
    {
        ArgumentNullException.ThrowIfNull(watch);
        return Words.InId(watch.Folder);
    }

    private static bool IsOff(IRule rule, ShopConfig shop) =>
        shop.Rules.TryGetValue(rule.Name, out var severity) && severity is null;

    private static Finding Weigh(Finding finding, IRule rule, SetupCase setupCase)
    {
        var severity = Configured(finding.Severity, rule, setupCase.Shop);
        if (severity < Severity.Stop || !rule.RestsOnOrder || setupCase.Setup.ClocksDisagree is not { } clocks)
            return finding with { Severity = severity };
        // Contract section 2: where two clocks disagree the order is not known, and no stop may rest on it.
        return finding with
        {
            Severity = Severity.High,
            Message = $"{finding.Message} This rests on the order of what two sources say, and their clocks disagree "
                + $"({clocks}): it is not raised as a stop.",
        };
    }

    /// <summary>
    /// What the configuration sets is for a finding at the rule's own severity; a milder clause stays milder, and a
    /// rule set down takes its clauses down with it.
    /// </summary>
    private static Severity Configured(Severity found, IRule rule, ShopConfig shop)
    {
        if (!shop.Rules.TryGetValue(rule.Name, out var configured) || configured is not { } wanted) return found;
        return found == rule.Default || wanted < found ? wanted : found;
    }

    private static IReadOnlyList<Finding> InOrder(IEnumerable<Finding> findings) =>
        [.. findings.OrderBy(finding => finding.AtUtc).ThenBy(finding => finding.Id, StringComparer.Ordinal)];

    private static IEnumerable<Finding> Distinct(IEnumerable<Finding> findings)
    {
        var given = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var finding in findings)
        {
            var count = given[finding.Id] = given.GetValueOrDefault(finding.Id) + 1;
            yield return count == 1
                ? finding
                : finding with { Id = string.Create(CultureInfo.InvariantCulture, $"{finding.Id}#{count}") };
        }
    }
}
