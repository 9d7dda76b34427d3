using System.Globalization;
using System.Text;
using System.Xml;
using SetupAudit.Evidence;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>
/// Walks through a document element by element, so that nothing it holds makes more work than its size: no DTD, no
/// entity but the five of XML, nothing fetched, nothing kept. Throws <see cref="XmlException"/> where the text is no
/// XML, or more than any agent writes.
/// </summary>
internal sealed class StreamXml : IDisposable
{
    private const int DepthMost = 32;
    private const int TextMost = 4096;
    private const int SentenceMost = 160;

    private readonly XmlReader _xml;
    private readonly IXmlLineInfo _place;
    private readonly char[] _chunk = new char[TextMost + 1];
    private string? _refused;

    public StreamXml(byte[] bytes)
    {
        _xml = XmlReader.Create(new MemoryStream(bytes, writable: false), new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            CloseInput = true,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            MaxCharactersInDocument = bytes.Length + 1L,
            MaxCharactersFromEntities = 1,
        });
        _place = _xml as IXmlLineInfo ?? throw new InvalidOperationException("the reader gives no lines");
    }

    public string Name => _xml.LocalName;

    public string Namespace => _xml.NamespaceURI;

    public int Depth => _xml.Depth;

    public int Line => _place.LineNumber;

    public int Column => _place.LinePosition;

    public bool IsElement => _xml.NodeType == XmlNodeType.Element;

    public bool IsEmpty => _xml.IsEmptyElement;

    public bool Read()
    {
        if (!_xml.Read()) return false;
        if (_xml.Depth > DepthMost) throw TooMuch($"elements lie more than {DepthMost} deep");
        return true;
    }

    /// <summary>Goes to the next element within one of a depth; false behind its last.</summary>
    public bool NextWithin(int depth)
    {
        while (Read())
        {
            if (Depth <= depth) return false;
            if (IsElement) return true;
        }
        return false;
    }

    /// <summary>An attribute without blanks around it; null where there is none.</summary>
    public string? Attribute(string name)
    {
        if (!_xml.MoveToAttribute(name)) return null;
        var value = Text();
        _xml.MoveToElement();
        return value;
    }

    /// <summary>The value of the present node.</summary>
    private string Text()
    {
        if (!_xml.CanReadValueChunk) return _xml.Value.Trim();
        var text = new StringBuilder();
        for (int read; (read = _xml.ReadValueChunk(_chunk, 0, _chunk.Length)) > 0;)
        {
            text.Append(_chunk, 0, read);
            if (text.Length > TextMost) throw TooMuch($"a value has more than {TextMost} letters");
        }
        return text.ToString().Trim();
    }

    /// <summary>The text that the reader stands on; "" where it stands on anything else.</summary>
    public string TextHere() => _xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA ? Text() : "";

    /// <summary>What a fault of the text says, and where.</summary>
    public Fault FaultOf(XmlException fault) => fault.LineNumber > 0
        ? new Fault(fault.LineNumber, fault.LinePosition, Reason(fault))
        : new Fault(Line, Column, Reason(fault));

    // The place stands beside it.
    private string Reason(XmlException fault) => _refused ?? NotWellFormed(fault);

    public static string NotWellFormed(XmlException fault)
    {
        if (fault.Message.Contains("DTD", StringComparison.Ordinal))
            return "the document has a DTD, which no agent writes; it is not read";
        var end = fault.Message.LastIndexOf(" Line ", StringComparison.Ordinal);
        return $"this is no well-formed XML: {Wording.Short(Sentence(fault.Message, end), SentenceMost)}";
    }

    private static string Sentence(string message, int end) => (end < 0 ? message : message[..end]).TrimEnd('.');

    public void Dispose() => _xml.Dispose();

    private XmlException TooMuch(FormattableString what)
    {
        _refused = what.ToString(CultureInfo.InvariantCulture) + ", which no agent writes; reading stops here";
        return new XmlException(_refused, null, Line, Column);
    }
}
