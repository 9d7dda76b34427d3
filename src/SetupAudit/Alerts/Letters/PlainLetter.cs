using System.Text;

namespace SetupAudit.Alerts.Letters;

/// <summary>A letter as plain text.</summary>
internal static class PlainLetter
{
    public static string Of(Letter letter)
    {
        var text = new StringBuilder();
        foreach (var line in letter.Lines)
        {
            if (text.Length > 0 && line.Role is not (LetterRole.Sentence or LetterRole.Detail)) text.Append('\n');
            text.Append(line.Role switch
            {
                LetterRole.Heading => "* " + line.Text,
                LetterRole.Sentence => "  " + line.Text,
                LetterRole.Detail => "  - " + line.Text,
                LetterRole.Link => "The report: " + line.Text,
                LetterRole.Page => "All machines: " + line.Text,
                _ => line.Text,
            }).Append('\n');
        }
        return text.ToString();
    }
}
