using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using CsCheck;
using MimeKit;
using SetupAudit.Alerts.Channels;
using SetupAudit.Alerts.Support;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Letters;

/// <summary>As <see cref="HostileTextTests"/>, for texts that nobody thought of.</summary>
public sealed class AnyTextTests
{
    private static readonly Regex SyslogHead = new(
        "^<130>1 2026-03-02T07:14:25Z host setupaudit 1 RAISED \\[alert@32473(?: [a-z]+=\"(?:[^\"\\\\\\]]|\\\\[\"\\\\\\]])*\")*\\] \uFEFF",
        RegexOptions.NonBacktracking);

    private static readonly MailboxAddress From = new("Audit", "audit@example.com");

    // Signs with a meaning somewhere, more often than chance would bring them.
    private static readonly char[] Signs = "\r\n=?]\\\"<>&;:@,\0\u202E\u2028\uFEFF\uD83D\uDE00 .-".ToCharArray();

    private static readonly Gen<string> Texts =
        Gen.OneOf(Gen.Char, Gen.Int[0, Signs.Length - 1].Select(at => Signs[at])).Array[0, 300].Select(letters => new string(letters));

    [Fact]
    public void No_text_breaks_out_of_any_form() => Texts.Sample(text =>
    {
        var message = SomeAlert.Saying(text);
        var letter = LetterWriter.Of(message, SomeAlert.QueuedUtc);
        HostileText.Shows(letter.Subject);
        foreach (var line in letter.Lines) HostileText.Shows(line.Text);

        var html = HtmlLetter.Of(letter);
        Assert.Equal(letter.Lines.Count + 6, XDocument.Parse(html[html.IndexOf("<html", StringComparison.Ordinal)..]).Descendants().Count());
        using var json = JsonDocument.Parse(AlertJson.Document(message, SomeAlert.QueuedUtc));
        Assert.Equal("raised", json.RootElement.GetProperty("kind").GetString());

        var entry = new SyslogWriter(new SyslogConfig { Host = "log", Port = 514 }, "host", 1).Of(message, SomeAlert.QueuedUtc);
        var packet = SyslogFormat.Of(entry, SyslogChannel.PacketMostOctets);
        Assert.InRange(packet.Length, 1, SyslogChannel.PacketMostOctets);
        Assert.Matches(SyslogHead, new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(packet));

        HasOnlyOurFields(MailWriter.Of(message, From, From, SomeAlert.QueuedUtc));
    });

    [Fact]
    public void A_text_that_looks_like_an_encoded_word_stays_that_text()
    {
        var message = SomeAlert.Raised with { Findings = [SomeAlert.Jump with { Message = "hole =?utf-8?Q?=E2=80=AE?= deep" }] };
        using var bytes = new MemoryStream();
        MailWriter.Of(message, From, From, SomeAlert.QueuedUtc).WriteTo(bytes, TestContext.Current.CancellationToken);
        bytes.Position = 0;
        Assert.Equal(
            "mill-3 stop: hole = ?utf-8?Q?=E2=80=AE?= deep",
            MimeMessage.Load(bytes, TestContext.Current.CancellationToken).Subject);
    }

    private static void HasOnlyOurFields(MimeMessage mail)
    {
        using var bytes = new MemoryStream();
        mail.Prepare(EncodingConstraint.SevenBit);
        mail.WriteTo(bytes, TestContext.Current.CancellationToken);
        var raw = Encoding.Latin1.GetString(bytes.ToArray()).ReplaceLineEndings("\n");
        var head = raw[..raw.IndexOf("\n\n", StringComparison.Ordinal)].Split('\n');
        Assert.Equal(12, head.Count(line => line[0] is not ' ' and not '\t'));
        bytes.Position = 0;
        HostileText.Shows(MimeMessage.Load(bytes, TestContext.Current.CancellationToken).Subject ?? "");
    }
}
