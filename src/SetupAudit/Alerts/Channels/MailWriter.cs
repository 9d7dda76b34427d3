using MimeKit;
using SetupAudit.Alerts.Letters;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Makes a mail of a message: plain text and HTML, an id that stays the same at each try, and a thread a setup.
/// </summary>
internal static class MailWriter
{
    /// <summary>The header that holds the alert's own id, for rules of a mail program.</summary>
    public const string IdHeader = "SetupAudit-Alert";

    public static MimeMessage Of(AlertMessage message, MailboxAddress from, MailboxAddress to, DateTimeOffset nowUtc)
    {
        var letter = LetterWriter.Of(message, nowUtc);
        var thread = IdOf("thread", message.Thread, from);
        var mail = new MimeMessage
        {
            // A text that looks like an encoded word would be decoded at the receiver, into whatever it hides.
            Subject = letter.Subject.Replace("=?", "= ?", StringComparison.Ordinal),
            // The time of this try: a mail dated hours back would lie far down in the list, unread.
            Date = nowUtc,
            MessageId = IdOf("alert", message.Id, from),
            InReplyTo = thread,
            Body = new BodyBuilder
            {
                TextBody = PlainLetter.Of(letter),
                HtmlBody = HtmlLetter.Of(letter),
            }.ToMessageBody(),
        };
        mail.From.Add(from);
        mail.To.Add(to);
        mail.References.Add(thread);
        // RFC 3834: so that no absence note answers it.
        mail.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        mail.Headers.Add(IdHeader, StableId.Of(message.Id));
        if (message is { Severity: Severity.Stop, Holding: > 0 })
            mail.Importance = MessageImportance.High;
        return mail;
    }

    // RFC 5322 3.6.4: unique by the sender's domain. The head of the thread is an id that no mail has, which mail
    // programs take as the common ancestor.
    private static string IdOf(string what, string id, MailboxAddress from) =>
        $"{what}.{StableId.Of(id)}@{MailboxAddress.EncodeAddrspec(from.Address).Split('@')[^1]}";
}
