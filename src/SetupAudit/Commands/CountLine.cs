using System.Globalization;

namespace SetupAudit.Commands;

/// <summary>One line on a terminal that says how many things were checked; gone when the work is done.</summary>
internal sealed class CountLine(Terminal terminal) : IProgress<(string What, long Done)>, IDisposable
{
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(100);
    private long _shown = long.MinValue;
    private int _width;

    public void Report((string What, long Done) value)
    {
        if (!terminal.ErrorsAreScreen) return;
        var now = terminal.Time.GetTimestamp();
        if (_shown != long.MinValue && terminal.Time.GetElapsedTime(_shown, now) < Every) return;
        _shown = now;
        Write(string.Create(CultureInfo.InvariantCulture, $"{value.Done} {value.What}"));
    }

    public void Dispose()
    {
        if (_width > 0) Write("");
    }

    private void Write(string text)
    {
        terminal.Errors.Write('\r' + text.PadRight(_width) + (text.Length == 0 ? "\r" : ""));
        terminal.Errors.Flush();
        _width = text.Length;
    }
}
