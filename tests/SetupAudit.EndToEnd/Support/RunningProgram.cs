using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace SetupAudit.Support;

/// <summary>The built program while it runs. Disposing kills it, with its children, if it is still there.</summary>
public sealed class RunningProgram : IDisposable
{
    private readonly string _command;
    private readonly Process _process;
    private readonly StringBuilder _output = new();
    private readonly StringBuilder _errors = new();
    private readonly object _written = new();

    internal RunningProgram(string command, ProcessStartInfo start)
    {
        _command = command;
        _process = new Process { StartInfo = start };
        _process.OutputDataReceived += (_, line) => Keep(_output, line.Data);
        _process.ErrorDataReceived += (_, line) => Keep(_errors, line.Data);
        _process.Start();
        _process.StandardInput.Close();
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    public int ProcessId => _process.Id;

    public bool HasEnded => _process.HasExited;

    /// <summary>Whether it ends within a time by itself.</summary>
    public bool EndedWithin(TimeSpan most) => _process.WaitForExit(most);

    /// <summary>Waits until either stream has shown the text; fails, with all that was written, where it does not.</summary>
    public void WaitFor(string text, TimeSpan? patience = null)
    {
        var left = patience ?? TimeSpan.FromMinutes(1);
        var since = Stopwatch.GetTimestamp();
        lock (_written)
            while (!Shows(text))
            {
                var still = left - Stopwatch.GetElapsedTime(since);
                if (still <= TimeSpan.Zero || _process.HasExited)
                    Assert.Fail($"\"{text}\" was never written\n{Told("not ended")}");
                // Wakes at every line; looks again each second because an ended program writes no more.
                Monitor.Wait(_written, still < TimeSpan.FromSeconds(1) ? still : TimeSpan.FromSeconds(1));
            }
    }

    /// <summary>What it wrote to both streams so far.</summary>
    public string Written()
    {
        lock (_written) return _output.ToString() + _errors;
    }

    /// <summary>Asks it to stop as a service manager does (SIGTERM) and waits for its end.</summary>
    public Ran Stop(TimeSpan? patience = null)
    {
        using var kill = Process.Start(Tool.At("kill"), ["-TERM", ProcessId.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        return End(patience ?? TimeSpan.FromMinutes(1));
    }

    /// <summary>Ends it at once, as a power cut does (SIGKILL).</summary>
    public Ran Kill()
    {
        _process.Kill(entireProcessTree: true);
        return End(TimeSpan.FromMinutes(1));
    }

    /// <summary>Waits for its end; one that does not end in that time is killed, and fails with all that it wrote.</summary>
    public Ran End(TimeSpan patience)
    {
        if (!_process.WaitForExit(patience))
        {
            _process.Kill(entireProcessTree: true);
            Assert.Fail($"did not end within {patience.TotalSeconds:0} s\n{Told("killed")}");
        }
        // Only the wait without a limit also waits for the last lines of both streams.
        _process.WaitForExit();
        lock (_written) return new Ran(_command, _process.ExitCode, _output.ToString(), _errors.ToString());
    }

    public void Dispose()
    {
        if (!_process.HasExited) _process.Kill(entireProcessTree: true);
        _process.Dispose();
    }

    private bool Shows(string text) =>
        _output.ToString().Contains(text, StringComparison.Ordinal) || _errors.ToString().Contains(text, StringComparison.Ordinal);

    private void Keep(StringBuilder stream, string? line)
    {
        lock (_written)
        {
            if (line is not null) stream.Append(line).Append('\n');
            Monitor.PulseAll(_written);
        }
    }

    private string Told(string ending)
    {
        lock (_written) return $"$ {_command}\n{ending}\n--- standard output\n{_output}\n--- standard error\n{_errors}";
    }
}
