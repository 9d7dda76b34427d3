using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Shapes;

/// <summary>Answers what stands against the current setup, and how old the word is that the answer rests on.</summary>
public static class Readiness
{
    public static ReadyView Of(ReadyCase asked)
    {
        var head = SetupView.Of(asked.Machine, asked.Setup, asked.Programs, asked.Findings);
        var asOf = LastWord(asked, head);
        var unknown = Unknown(asked, asOf).Concat(asked.AlsoUnknown).ToList();
        return new ReadyView
        {
            Machine = asked.Machine.Name,
            Program = asked.Setup.Programs.Count == 0 ? null : string.Join(", ", asked.Setup.Programs),
            Setup = asked.HasSetup ? asked.Setup.Id : null,
            Verdict = Verdict(asked, unknown.Count > 0),
            AsOfUtc = asOf,
            Registers = head.Registers,
            Tools = head.Tools,
            Findings =
            [
                .. asked.Findings.Select(finding => FindingView.From(finding, asked.Machine.Units)), .. asked.Earlier,
            ],
            Unknown = unknown,
            FoundWithout = asked.Unread,
        };
    }

    private static ReadyVerdict Verdict(ReadyCase asked, bool unknown)
    {
        var gravest = asked.Findings.Select(finding => finding.Severity)
            .Concat(asked.Earlier.Select(finding => finding.Severity)).DefaultIfEmpty(Severity.Note).Max();
        return gravest switch
        {
            Severity.Stop => ReadyVerdict.Stop,
            Severity.High or Severity.Low => ReadyVerdict.Look,
            _ => unknown ? ReadyVerdict.Unknown : ReadyVerdict.NothingFound,
        };
    }

    // The oldest of the last proofs of all that the programs need: one fresh number does not make another one fresh.
    private static DateTimeOffset? LastWord(ReadyCase asked, SetupView head)
    {
        var datums = head.Registers.SelectMany(register => register.Axes.Where(item => item.Value.Needed)
            .Select(item => OffsetKey.Datum(register.Register, item.Axis)));
        var tools = head.Tools.SelectMany(tool => tool.Parts.Where(item => item.Value.Needed)
            .Select(item => OffsetKey.OfTool(tool.Tool, item.Part)));
        var table = asked.Setup.After;
        var needed = datums.Concat(tools).Select(key => table[key]).OfType<OffsetState>().ToList();
        if (needed.Count > 0) return needed.Min(state => state.ShownUtc);
        return table.States.Count == 0 ? null : table.States.Values.Max(state => state.ShownUtc);
    }

    private static IEnumerable<string> Unknown(ReadyCase asked, DateTimeOffset? asOf)
    {
        if (asOf is not { } word)
        {
            yield return "no source has shown any offset of this machine";
            yield break;
        }
        if (asked.NowUtc - word > asked.Fresh)
            yield return string.Create(CultureInfo.InvariantCulture,
                $"the last word about what the program needs is more than {asked.Fresh.TotalMinutes:0} minutes old");
        foreach (var source in asked.Unread)
            yield return $"{source.Folder} cannot be read now: what it would show is not in this answer";
        if (asked.LastCycleUtc > word) yield return "a cycle ran after the last word";
        if (asked.Setup.Programs.Count == 0) yield return "no program is in hand or was named";
        foreach (var use in asked.Programs)
        {
            if (use.Text is null) yield return $"the text of {use.Program} has not been read";
            if (use.Text is { Faults: [var fault, ..] })
                yield return $"the text of {use.Program} could not be read whole: {fault.Reason}";
            else if (use is { Text: not null, Scope: { Registers.Count: 0, Tools.Count: 0 } })
                yield return $"the text of {use.Program} selects no register and calls no tool";
            if (use.Text?.ModifiedUtc > word) yield return $"{use.Program} was written after the last word";
            if (use.Scope is { Missing: { Count: > 0 } missing })
                yield return $"{use.Program} calls {string.Join(", ", missing)}, which has not been read";
        }
    }
}
