using System.Xml.Linq;

namespace SetupAudit.Reports.Paper;

/// <summary>A stretch of text of one style, or a small drawing that stands in the line like a letter.</summary>
internal sealed record Piece(string Text, TextStyle Style)
{
    public XElement? Sign { get; init; }
}
