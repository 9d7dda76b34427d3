using System.Globalization;
using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Store.Bundles;

namespace SetupAudit.Commands;

/// <summary>What checking a bundle came to, for a person and as JSON.</summary>
internal static class BundleLines
{
    private static readonly JsonSerializerOptions Form = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
    };

    public static void Write(BundleCheck check, Terminal terminal)
    {
        foreach (var line in Of(check)) terminal.Out.WriteLine(VisibleText.Of(line));
    }

    public static void WriteJson(BundleCheck check, Terminal terminal) =>
        terminal.Out.WriteLine(JsonSerializer.Serialize(check, Form));

    public static IEnumerable<string> Of(BundleCheck check)
    {
        if (check.Setup is { } setup)
            yield return Text($"Bundle of {setup}, record {check.Origin}, made {check.MadeUtc}: ")
                + (check.Holds ? Proved(check) : "it does NOT hold.");
        if (check.Key is { } key)
            yield return check.KeyWasGiven
                ? $"Signed with the key that was given: {key}."
                : $"Signed with the key that it names itself: {key}. Compare it with the one that the shop gave you by "
                    + "another way, or give that one with --key.";
        if (check.Holds && check.Earlier.Count > 0)
            yield return "The record goes on from what it was at its earlier checkpoints over "
                + $"{string.Join(" and ", check.Earlier)} entries, and changed nothing in it.";
        if (check.Holds)
            foreach (var stamp in check.Stamps) yield return StampLines.Of(stamp);
        if (check is { Holds: true, NotShown: { } left })
            yield return Text($"setup.json says nothing but what {(left == 0 ? "the sealed rows" : "sealed rows")} say")
                + (left == 0 ? "; " : Text($" ({left} that hold are not in it: they came after it was written, or ")
                    + "belong to another setup now); ")
                + "report.html is compared by its SHA-256 alone. Whether the rows follow from the evidence is what "
                + "'rebuild' checks, where the whole record and its configuration are.";
        if (check is { Holds: true, IsRecorded: true })
            yield return "The record itself says that this bundle was made, with the SHA-256 of its list: nothing was "
                + "left out of it.";
        foreach (var remark in check.Remarks) yield return remark;
        for (var index = 0; index < check.Faults.Count; index++)
            yield return $"{(index == 0 ? "First wrong" : "Also wrong")} [{check.Faults[index].Code}]: "
                + $"{check.Faults[index].Text}.";
        if (check.FaultCount > check.Faults.Count)
            yield return Text($"and {check.FaultCount - check.Faults.Count} more");
        if (!check.Holds)
            yield return "NOT VERIFIED. Rest no decision about a part or a machine on this bundle.";
    }

    private static string Proved(BundleCheck check) => Text(
        $"{check.Entries} entries are in the record of {check.Size}, {check.SealedRows} rows as sealed, ")
        + Text($"{check.Evidence} files of evidence by their SHA-256.");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
