using SetupAudit.Reports;

namespace SetupAudit.Commands;

/// <summary>Several lines for a terminal: the line breaks are ours, all else that would not show is a sign.</summary>
public static class VisibleLines
{
    public static string Of(string text) =>
        string.Join('\n', text.ReplaceLineEndings("\n").Split('\n').Select(line => VisibleText.Of(line)));
}
