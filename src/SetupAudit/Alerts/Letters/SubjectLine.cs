using System.Buffers;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Letters;

/// <summary>The subject: which machine, how grave, and what, short enough for the list of a telephone.</summary>
internal static class SubjectLine
{
    private const int Most = 100;
    private const int NameMost = 40;

    private static readonly SearchValues<char> ClauseEnds = SearchValues.Create(";:(");

    public static string Of(AlertMessage message)
    {
        var machine = VisibleText.Of(message.Machine, NameMost)
            + (message.Share is { } share ? $", share {VisibleText.Of(share, NameMost)}," : "");
        var severity = AlertWords.Severity(message.Severity);
        return message.Kind switch
        {
            AlertKind.Test => $"{VisibleText.Of(message.Shop, NameMost)}: test of alerts, nothing was found",
            AlertKind.Digest when message.Holding > 0 =>
                $"{machine}: {Findings(message.Holding)}, the gravest {severity}",
            _ when message is { Holding: 0, Cleared: > 0 } =>
                Fit($"{machine}: no longer so: {First(message)}", message),
            AlertKind.Reminder => Fit($"{machine} still {severity}: {First(message)}", message),
            _ => Fit($"{machine} {severity}: {First(message)}", message),
        };
    }

    public static int Total(AlertMessage message) => message.Findings.Count + message.Remainder;

    public static string Findings(int count) => Figures.Count(count, "finding", "findings");

    // The gravest is named; one that was cleared has nothing to say beside one that holds.
    private static string First(AlertMessage message) => message.Findings
        .OrderByDescending(finding => finding.Cleared ? (Severity)(-1) : finding.Severity)
        .Select(AlertWords.Sentence).FirstOrDefault("") is { Length: > 0 } sentence
            ? sentence
            : Findings(Total(message));

    private static string Fit(string text, AlertMessage message)
    {
        var more = Total(message) - 1;
        var end = more > 0 ? FormattableString.Invariant($" (and {more} more)") : "";
        var room = Most - end.Length;
        if (text.Length <= room) return text.TrimEnd('.') + end;
        // Where a clause ends, else at a blank, and never between the two halves of a character.
        var cut = text.AsSpan(0, room - 2).LastIndexOfAny(ClauseEnds);
        if (cut < room / 2) cut = text.LastIndexOf(' ', room - 3);
        if (cut < room / 2) cut = char.IsHighSurrogate(text[room - 4]) ? room - 4 : room - 3;
        return text[..cut].TrimEnd(' ', ',', ';', ':', '.') + "..." + end;
    }
}
