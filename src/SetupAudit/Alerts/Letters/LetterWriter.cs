using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Letters;

/// <summary>
/// Puts a message into words, once for all channels: what a person on the floor can act on. Text from a share passes
/// only as characters that show, so that no name or comment can break out of the line it stands in.
/// </summary>
internal static class LetterWriter
{
    /// <summary>A message that goes out later than this says so: tries soon after the first are no news.</summary>
    public static readonly TimeSpan LateAfter = TimeSpan.FromMinutes(5);

    private const int NameMost = 120;
    private const int SentenceMost = 600;
    private const int LinkMost = 2000;

    public static Letter Of(AlertMessage message, DateTimeOffset nowUtc) =>
        new(SubjectLine.Of(message), [.. Lines(message, nowUtc)]);

    /// <summary>That the message is late, and by how much; null where it is not.</summary>
    public static string? Late(AlertMessage message, DateTimeOffset nowUtc)
    {
        var age = nowUtc - message.QueuedUtc;
        return age <= LateAfter
            ? null
            : $"This message is {AlertWords.Span(age)} late: it is of "
                + $"{AlertTime.Of(message.QueuedUtc, message.TimeZone)}, and things may have changed since.";
    }

    private static IEnumerable<LetterLine> Lines(AlertMessage message, DateTimeOffset nowUtc)
    {
        if (Late(message, nowUtc) is { } late) yield return new(LetterRole.Late, late);
        var isStop = message is { Severity: Severity.Stop, Holding: > 0 };
        yield return new(isStop ? LetterRole.Stop : LetterRole.Lead, Lead(message));
        foreach (var finding in message.Findings)
            foreach (var line in Of(finding, message)) yield return line;
        if (message.Remainder > 0) yield return new(LetterRole.Since, Remainder(message.Remainder));
        if (message.RanSince is { } ran)
            yield return new(LetterRole.Since, VisibleText.Of(ran.Trim(), SentenceMost));
        if (message.ReportLink is { } link)
            yield return new(message.Setup is null ? LetterRole.Page : LetterRole.Link, VisibleText.Of(link, LinkMost));
        yield return new(LetterRole.Caution, AlertWords.Caution);
        yield return new(LetterRole.Foot, Foot(message));
    }

    private static string Lead(AlertMessage message)
    {
        var where = VisibleText.Of(message.Machine, NameMost)
            + (message.Setup is { } setup ? $", setup {VisibleText.Of(setup, NameMost)}" : "")
            + (message.Share is { } share ? $", share {VisibleText.Of(share, NameMost)}" : "");
        return message.Kind switch
        {
            AlertKind.Test => $"This is a test of the alerts of {VisibleText.Of(message.Shop, NameMost)}, asked for by "
                + "a person. Nothing was found; there is nothing to do.",
            _ when message is { Holding: 0, Cleared: > 0 } => $"{where}: {NoLonger(message.Cleared)} by what the files "
                + $"show now. {(message.Share is null ? "That does not say that the setup is right."
                    : "What happened in between may not have been seen.")}",
            AlertKind.Reminder => $"{where}: still so, as sent before: {Count(message)}. {Advice(message)}",
            _ => $"{where}: {Count(message)}. {Advice(message)}",
        };
    }

    private static string NoLonger(int count) => count == 1
        ? "a finding that was sent before no longer holds"
        : $"{SubjectLine.Findings(count)} that were sent before no longer hold";

    private static string Count(AlertMessage message) => SubjectLine.Findings(message.Holding)
        + $", {(message.Holding == 1 ? "" : "the gravest ")}{AlertWords.Severity(message.Severity)}"
        + (message.Cleared > 0 ? $"; {NoLonger(message.Cleared)}" : "");

    private static string Advice(AlertMessage message) => message.Severity switch
    {
        Severity.Stop => "Do not cut before you have looked.",
        Severity.High when message.Setup is null => "Look before you rely on what this machine's sources show.",
        Severity.High => "Look before you rely on this setup.",
        _ => "Worth a look when there is time.",
    };

    private static IEnumerable<LetterLine> Of(AlertFinding finding, AlertMessage message)
    {
        var state = finding.Cleared ? "no longer so" : AlertWords.Severity(finding.Severity);
        yield return new(LetterRole.Heading,
            $"{state}: {VisibleText.Of(finding.Rule, NameMost)}, {Where(finding, message)}"
                + AlertTime.Of(finding.AtUtc, message.TimeZone));
        yield return new(LetterRole.Sentence, AlertWords.Sentence(finding));
        if (finding.Because is { } because)
            yield return new(LetterRole.Detail, "Why: " + VisibleText.Of(because.Trim(), SentenceMost));
        foreach (var move in finding.Moves) yield return new(LetterRole.Detail, AlertWords.Move(move));
        if (finding is { Cleared: false, LikelyCause: { } cause })
            yield return new(LetterRole.Detail, AlertWords.LikelyCause(cause));
    }

    // Which one, where the message is not of one setup or machine alone.
    private static string Where(AlertFinding finding, AlertMessage message) =>
        message.Setup is not null ? ""
        : finding.Setup is { } setup ? $"setup {VisibleText.Of(setup, NameMost)}, "
        : finding.Machine is { } machine && machine != message.Machine ? $"{VisibleText.Of(machine, NameMost)}, "
        : "";

    private static string Remainder(int count) =>
        $"{Figures.Count(count, "more finding is", "more findings are")} not listed here; "
        + "setupaudit list alerts names each.";

    private static string Foot(AlertMessage message) =>
        $"From SetupAudit at {VisibleText.Of(message.Shop, NameMost)}. Message {VisibleText.Of(message.Id, NameMost)}; "
        + "one that comes twice has the same.";
}
