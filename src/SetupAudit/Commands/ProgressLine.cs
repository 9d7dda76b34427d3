using SetupAudit.Auditing;
using SetupAudit.Reports;

namespace SetupAudit.Commands;

/// <summary>One line on a terminal that says how far long work is, and is gone when the work is done.</summary>
internal sealed class ProgressLine(Terminal terminal) : IProgress<AuditProgress>, IDisposable
{
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(100);
    private readonly Lock _gate = new();
    private long _shown = long.MinValue;
    private int _width;

    public bool IsShown => terminal.ErrorsAreScreen;

    public void Report(AuditProgress value)
    {
        lock (_gate)
        {
            var now = terminal.Time.GetTimestamp();
            if (_shown != long.MinValue && terminal.Time.GetElapsedTime(_shown, now) < Every) return;
            _shown = now;
            var machine = value.Machine.Length == 0 ? "sheets" : VisibleText.Of(value.Machine);
            Write($"{machine}: {value.Doing} {value.Done}");
        }
    }

    public void Dispose()
    {
        lock (_gate)
            if (_width > 0) Write("");
    }

    private void Write(string text)
    {
        terminal.Errors.Write('\r' + text.PadRight(_width) + (text.Length == 0 ? "\r" : ""));
        terminal.Errors.Flush();
        _width = text.Length;
    }
}
