using System.Globalization;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting.Display;

namespace SetupAudit.Commands;

/// <summary>
/// Writes log events to standard error, a line an event and times in UTC. File names come from shares, so what would
/// move a cursor is shown as a sign.
/// </summary>
internal sealed class TerminalLog(TextWriter errors) : ILogEventSink
{
    private const string TimeFormat = "yyyy-MM-dd HH:mm:ss.fff'Z'";
    private readonly MessageTemplateTextFormatter _message = new("{Message:lj}", CultureInfo.InvariantCulture);
    private readonly Lock _gate = new();

    public void Emit(LogEvent logEvent)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        _message.Format(logEvent, text);
        if (logEvent.Exception is { } exception) text.Write("\n" + exception);
        var moment = logEvent.Timestamp.UtcDateTime.ToString(TimeFormat, CultureInfo.InvariantCulture);
        lock (_gate)
        {
            errors.WriteLine($"{moment} {logEvent.Level,-11} {VisibleLines.Of(text.ToString())}");
            errors.Flush();
        }
    }
}
