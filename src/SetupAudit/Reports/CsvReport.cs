using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>
/// Changes, adjustments, findings and reviews of a setup in one table; the first column tells which a row is.
/// </summary>
public static class CsvReport
{
    private static readonly string[] Header =
    [
        "record", "id", "machine", "setup", "register", "axis", "tool", "of", "before", "after", "delta", "value",
        "expectedLow", "expectedHigh", "unit", "from", "to", "by", "rule", "severity", "message", "file", "line",
        "sha256",
    ];

    public static string Of(SetupReport report)
    {
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        var table = new CsvTable(writer, Header);
        foreach (var change in report.Setup.Made) table.Row(Row(change, "change"));
        foreach (var change in report.Setup.Adjustments) table.Row(Row(change, "adjustment"));
        foreach (var finding in report.Setup.Findings) table.Row(Row(finding));
        if (report.Setup.Head.Review is { } newest)
            foreach (var review in newest.Earlier.Append(newest)) table.Row(Row(review));
        return writer.ToString();
    }

    private static string?[] Row(ChangeView change, string record) =>
    [
        record, change.Change, change.Machine, change.Setup, .. Key(change.Key),
        Number(change.Before), Number(change.After), Number(change.Delta), null, null, null,
        Length.ShortName(change.Unit), Time(change.FromUtc), Time(change.ToUtc), Word.Of(change.By), null, null,
        change.BySays,
        change.File, Number(change.Line), change.Sha256,
    ];

    private static string?[] Row(FindingView finding)
    {
        var source = finding.Evidence.Count > 0 ? finding.Evidence[0] : null;
        var range = finding.ExpectedRange ?? (finding.Expected is { } one ? new Bounds(one, one) : null as Bounds?);
        return
        [
            "finding", finding.Finding, finding.Machine, finding.Setup, finding.Register?.ToString(),
            finding.Axis?.ToString(),
            Number(finding.Tool), finding.Of is { } part ? ToolPartName.Of(part) : null, null, null, null,
            Number(finding.Value), Number(range?.Low), Number(range?.High),
            finding.Unit is { } unit ? Length.ShortName(unit) : null, null, Time(finding.AtUtc), null, finding.Rule,
            Word.Of(finding.Severity), finding.Message, source?.File, Number(source?.Line), source?.Sha256,
        ];
    }

    private static string?[] Row(ReviewView review) =>
    [
        "review", review.Review, review.Machine, review.Setup, null, null, null, null, null, null, null, null, null,
        null, null, null, Time(review.AtUtc), review.By, Word.Of(review.Verdict), null,
        $"{review.Words} Reason: {review.Reason}{(review.Cause is { } cause ? $" Cause: {cause}" : "")}", null, null,
        review.SignedSha256,
    ];

    private static string?[] Key(OffsetKey key) => key.IsTool
        ? [null, null, Number(key.Tool), ToolPartName.Of(key.Part)]
        : [key.Register.ToString(), key.Axis.ToString(), null, null];

    private static string? Number(decimal? value) => value?.ToString(CultureInfo.InvariantCulture);

    private static string? Time(DateTimeOffset? moment) => moment is { } known ? Word.Of(known) : null;
}
