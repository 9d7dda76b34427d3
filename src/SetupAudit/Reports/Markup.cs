using System.Text;
using System.Xml;

namespace SetupAudit.Reports;

/// <summary>
/// Writes HTML that is well-formed XML too: every text goes through one writer that escapes it, so no section can
/// forget.
/// </summary>
internal sealed class Markup : IDisposable
{
    private readonly XmlWriter _xml;

    public Markup(TextWriter writer) => _xml = XmlWriter.Create(writer, new XmlWriterSettings
    {
        OmitXmlDeclaration = true,
        ConformanceLevel = ConformanceLevel.Fragment,
        Indent = false,
        NewLineHandling = NewLineHandling.None,
    });

    /// <summary>Opens an element; disposing what it returns closes it.</summary>
    public Opened In(string tag, string? cssClass = null, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        Start(tag, cssClass, attributes);
        return new Opened(this);
    }

    /// <summary>A whole element with a text in it.</summary>
    public void Put(string tag, string text, string? cssClass = null)
    {
        Start(tag, cssClass, []);
        Text(text);
        Close();
    }

    /// <summary>An element without content, such as a mark of a drawing.</summary>
    public void Mark(string tag, string? cssClass, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        Start(tag, cssClass, attributes);
        _xml.WriteEndElement();
    }

    public void Text(string text) => _xml.WriteString(VisibleText.Of(text));

    /// <summary>Text that is ours and already markup, such as the style sheet.</summary>
    public void Own(string markup) => _xml.WriteRaw(markup);

    public void NewLine() => _xml.WriteRaw("\n");

    public void Dispose() => _xml.Dispose();

    public static string Page(Action<Markup> write)
    {
        var text = new StringBuilder();
        using (var writer = new StringWriter(text))
        using (var page = new Markup(writer))
            write(page);
        return text.ToString();
    }

    private void Start(string tag, string? cssClass, ReadOnlySpan<(string Name, string Value)> attributes)
    {
        _xml.WriteStartElement(tag);
        if (cssClass is not null) _xml.WriteAttributeString("class", cssClass);
        foreach (var (name, value) in attributes) _xml.WriteAttributeString(name, VisibleText.Of(value));
    }

    // HTML knows no empty tag but the void ones: <td/> would swallow what follows.
    private void Close() => _xml.WriteFullEndElement();

    /// <summary>An element that is closed when this is disposed.</summary>
    internal readonly struct Opened(Markup page) : IDisposable
    {
        public void Dispose() => page.Close();
    }
}
