using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using SetupAudit.Alerts.Support;

namespace SetupAudit.Alerts.Letters;

/// <summary>What a program's comment or a setter's name may hold must not get out of the place it stands in.</summary>
public sealed class HostileTextTests
{
    public static TheoryData<string> Texts { get; } = HostileText.All;

    [Theory]
    [MemberData(nameof(Texts))]
    public void No_line_of_a_message_holds_a_sign_that_does_not_show(string text)
    {
        var letter = LetterWriter.Of(SomeAlert.Saying(text), SomeAlert.QueuedUtc);
        foreach (var line in letter.Lines.Select(line => line.Text).Prepend(letter.Subject))
            HostileText.Shows(line);
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void The_subject_is_one_short_line(string text) =>
        Assert.InRange(LetterWriter.Of(SomeAlert.Saying(text), SomeAlert.QueuedUtc).Subject.Length, 1, 200);

    [Theory]
    [MemberData(nameof(Texts))]
    public void The_HTML_has_the_elements_it_has_for_plain_words(string text)
    {
        Assert.Equal(
            Elements(HtmlLetter.Of(LetterWriter.Of(SomeAlert.Saying("words"), SomeAlert.QueuedUtc))),
            Elements(HtmlLetter.Of(LetterWriter.Of(SomeAlert.Saying(text), SomeAlert.QueuedUtc))));
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void The_JSON_is_one_document_of_plain_ASCII_with_the_text_as_it_was(string text)
    {
        var bytes = AlertJson.Document(SomeAlert.Saying(text), SomeAlert.QueuedUtc);
        Assert.All(Encoding.UTF8.GetString(bytes), letter => Assert.True(letter is '\n' or '\r' or >= ' ' and < '\x7f'));
        using var document = JsonDocument.Parse(bytes);
        var whole = Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text));
        Assert.Equal(whole, document.RootElement.GetProperty("findings")[0].GetProperty("message").GetString());
    }

    private static IEnumerable<string> Elements(string html) =>
        XDocument.Parse(html[html.IndexOf("<html", StringComparison.Ordinal)..]).Descendants()
            .Select(element => $"{element.Name} {string.Join(' ', element.Attributes().Select(attribute => attribute.Name))}");
}
