using System.Globalization;
using System.Text;
using SetupAudit.Alerts.Letters;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>Makes one syslog entry of a message: what programs sort by as structured data, the rest as text.</summary>
internal sealed class SyslogWriter(SyslogConfig config, string host, int processId)
{
    private const string App = "setupaudit";
    private const int ValueMost = 100;

    // So that the text has room within 2048 octets, whatever the names are.
    private const int ValuesMostOctets = 1000;

    public SyslogEntry Of(AlertMessage message, DateTimeOffset nowUtc) => new()
    {
        Facility = config.Facility,
        Severity = SeverityOf(message),
        AtUtc = message.QueuedUtc,
        Host = host,
        App = App,
        ProcessId = processId.ToString(CultureInfo.InvariantCulture),
        Kind = Word.Of(message.Kind).ToUpperInvariant(),
        Text = TextOf(message, nowUtc),
        Elements =
        [
            new(string.Create(CultureInfo.InvariantCulture, $"alert@{config.EnterpriseNumber}"),
                [.. Fitting(ValuesOf(message))]),
        ],
    };

    // RFC 5424, table 2: 2 critical, 3 error, 4 warning, 5 notice, 6 informational.
    private static int SeverityOf(AlertMessage message) => (message.Kind, message.Severity) switch
    {
        (AlertKind.Test, _) => 6,
        (AlertKind.Cleared, _) => 5,
        _ when message.Holding == 0 => 5,
        (_, Severity.Stop) => 2,
        (_, Severity.High) => 3,
        (_, Severity.Low) => 4,
        _ => 5,
    };

    private static string TextOf(AlertMessage message, DateTimeOffset nowUtc) => string.Join(" | ",
        LetterWriter.Of(message, nowUtc).Lines.Where(line => line.Role != LetterRole.Foot).Select(line => line.Text));

    private static IEnumerable<(string Name, string? Value)> ValuesOf(AlertMessage message)
    {
        yield return ("id", message.Id);
        yield return ("kind", Word.Of(message.Kind));
        yield return ("severity", Word.Of(message.Severity));
        yield return ("machine", message.Machine);
        yield return ("setup", message.Setup);
        yield return ("thread", message.Thread);
        yield return ("findings", SubjectLine.Total(message).ToString(CultureInfo.InvariantCulture));
        yield return ("report", message.ReportLink);
        yield return ("shop", message.Shop);
    }

    private static IEnumerable<(string Name, string Value)> Fitting(IEnumerable<(string Name, string? Value)> values)
    {
        var room = ValuesMostOctets;
        foreach (var (name, value) in values)
        {
            if (value is null) continue;
            var shown = VisibleText.Of(value.Length > ValueMost ? value[..ValueMost] : value);
            // Twice, for each sign may need one more before it.
            room -= 2 * Encoding.UTF8.GetByteCount(shown) + name.Length + 4;
            if (room >= 0) yield return (name, shown);
        }
    }
}
