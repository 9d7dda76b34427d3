using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// An arrival could not be read, or only in part. It belongs to no setup: <see cref="Of"/> makes the finding where an
/// arrival is taken in, and a setup has none of its own.
/// </summary>
internal sealed class Unreadable : IRule
{
    private const int HashShown = 8;

    public string Name => "unreadable";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase) => [];

    /// <summary>Null where nothing was amiss.</summary>
    /// <param name="machine">Empty for a setup sheet, which no machine owns.</param>
    public Finding? Of(
        string machine, string file, string sha256, DateTimeOffset atUtc, ArrivalStatus status,
        IReadOnlyList<Fault> faults)
    {
        if (faults.Count == 0 || status == ArrivalStatus.Read) return null;
        var first = faults[0];
        var more = faults.Count switch
        {
            1 => "",
            2 => " (1 more fault follows)",
            _ => $" ({Words.Count(faults.Count - 1, "more fault")} follow)",
        };
        var read = status == ArrivalStatus.Partial
            ? "could only be read in part; what came before the fault counts"
            : "could not be read";
        var owner = machine.Length == 0 ? "sheets" : machine;
        return new Finding
        {
            Id = string.Create(CultureInfo.InvariantCulture,
                $"{owner}@{atUtc:yyyyMMdd-HHmmss}/{Name}/{file}#{Short(sha256)}"),
            Rule = Name,
            Severity = Default,
            Machine = machine,
            Message = $"{file} {read}: {Place(first)}{first.Reason.TrimEnd('.')}{more}.",
            AtUtc = atUtc,
            Evidence = Raising.Sorted(faults.Select(fault => new SourceLine(file, sha256, fault.Line))),
        };
    }

    /// <summary>What came after evidence up to its moment was dropped is kept and changes nothing.</summary>
    public Finding OfTooLate(string machine, Sighting sighting, string because) => new()
    {
        Id = string.Create(CultureInfo.InvariantCulture,
            $"{machine}@{sighting.AtUtc:yyyyMMdd-HHmmss}/{Name}/{sighting.File}#{Short(sighting.Sha256)}/too-late"),
        Rule = Name,
        Severity = Default,
        Machine = machine,
        Message = $"{sighting.File} is kept and changes nothing: {because}.",
        AtUtc = sighting.AtUtc,
        Evidence = [sighting.At(0)],
    };

    /// <summary>Observations that lie between what was read of an agent before and the oldest it still had.</summary>
    public Finding OfLoss(string machine, Sighting sighting, ulong from, ulong until) => new()
    {
        Id = string.Create(CultureInfo.InvariantCulture,
            $"{machine}@{sighting.AtUtc:yyyyMMdd-HHmmss}/{Name}/{sighting.File}#{Short(sighting.Sha256)}/lost"),
        Rule = Name,
        Severity = Default,
        Machine = machine,
        Message = $"{sighting.File} begins behind what was read before: {Lost(from, until)} of the agent "
            + "lost. A change or cycle among them is not known; nothing is guessed.",
        AtUtc = sighting.AtUtc,
        Evidence = [sighting.At(sighting.Line)],
    };

    private static string Lost(ulong from, ulong until) => until - from == 1
        ? string.Create(CultureInfo.InvariantCulture, $"observation {from} was")
        : string.Create(CultureInfo.InvariantCulture,
            $"{until - from} observations, numbers {from} to {until - 1}, were");

    private static string Short(string sha256) => sha256[..Math.Min(HashShown, sha256.Length)];

    private static string Place(Fault fault) => fault switch
    {
        { Line: 0 } => "",
        { Column: 0 } => $"line {Words.Number(fault.Line)}: ",
        _ => $"line {Words.Number(fault.Line)}, column {Words.Number(fault.Column)}: ",
    };
}
