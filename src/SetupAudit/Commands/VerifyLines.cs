using System.Globalization;
using SetupAudit.Reports;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary>What verifying came to, for a person: how far it holds and what is wrong first.</summary>
internal static class VerifyLines
{
    public static void Write(RecordCheck check, Terminal terminal)
    {
        foreach (var line in Of(check)) terminal.Out.WriteLine(VisibleText.Of(line));
    }

    /// <summary>The lines, the one that says how far it holds first.</summary>
    public static IEnumerable<string> Of(RecordCheck check)
    {
        yield return Standing(check);
        foreach (var anchor in check.Anchors)
            yield return Text(
                $"Anchored at {anchor.Size} in {anchor.Path}{(anchor.IsOffBox ? ", off this computer" : "")}.");
        foreach (var stamp in check.Stamps) yield return StampLines.Of(stamp);
        if (check.Origin is not null) yield return Compared(check);
        if (check.Key is { } key)
            yield return check.KeyWasGiven
                ? $"Signed with the key that was given: {key}."
                : $"Signed with the key that the record names itself: {key}. Whoever swaps the whole store can swap it "
                    + "too: write it down elsewhere and give it with --key.";
        if (check.IsWritten && check.AnchoredAt < check.Entries)
            yield return "A service writes this store now; it anchors its newest entries in a moment.";
        foreach (var remark in check.Remarks) yield return remark;
        for (var index = 0; index < check.Faults.Count; index++)
            yield return $"{(index == 0 ? "First wrong" : "Also wrong")} [{check.Faults[index].Code}]: "
                + $"{check.Faults[index].Text}.";
        if (check.FaultCount > check.Faults.Count)
            yield return Text($"and {check.FaultCount - check.Faults.Count} more");
        if (!check.Holds)
            yield return "NOT VERIFIED. Keep the folder as it is for whoever looks into it, and rest no decision about "
                + "a part or a machine on this record before it is explained.";
    }

    private static string Standing(RecordCheck check)
    {
        if (check.Origin is not { } origin) return "No record could be verified.";
        var anchored = check.AnchoredAt == 0 ? "not anchored" : Text($"anchored at {check.AnchoredAt}");
        var open = check.AnchoredAt >= check.Entries || check.AnchoredAt == 0
            ? "" : Text($", not anchored {check.AnchoredAt}..{check.Entries}");
        return Text($"{origin}: verified to {check.VerifiedTo} of {check.Entries}, {anchored}{open}.");
    }

    private static string Compared(RecordCheck check)
    {
        var evidence = check.Evidence is { } files
            ? Text($"{files} files of evidence hashed again")
            : "evidence left out, as asked: its bytes were not hashed";
        return Text($"{check.Checkpoints} signed checkpoints hold, {check.Rows} rows as sealed, {evidence}.");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
