using System.Runtime.InteropServices;
using Serilog;
using Serilog.Core;
using Serilog.Events;

namespace SetupAudit.Commands;

/// <summary>Runs the command line as this process: asks it to stop, once, where the process is asked to.</summary>
public static class ProgramHost
{
    /// <summary>Commands speak for themselves and log only what went wrong; the service logs what it does.</summary>
    internal static LoggingLevelSwitch LogLevel { get; } = new(LogEventLevel.Warning);

    public static async Task<int> RunAsync(IReadOnlyList<string> arguments)
    {
        var terminal = Terminal.OfProcess();
        Log.Logger = new LoggerConfiguration().MinimumLevel.ControlledBy(LogLevel)
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            // What fails in the host is thrown by it too, and told once, by the command; /health says itself how it is.
            .MinimumLevel.Override("Microsoft.Extensions.Hosting.Internal.Host", LevelAlias.Off)
            .MinimumLevel.Override("Microsoft.Extensions.Diagnostics.HealthChecks", LevelAlias.Off)
            .WriteTo.Sink(new TerminalLog(terminal.Errors)).CreateLogger();
        using var stop = new CancellationTokenSource();
        // The first request stops at a place where nothing is lost; a second one is the system's own.
        void Ask(PosixSignalContext context)
        {
            if (stop.IsCancellationRequested) return;
            context.Cancel = true;
            stop.Cancel();
        }

        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Ask);
        using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Ask);
        try
        {
            return await CommandLine.RunAsync(arguments, terminal, stop.Token);
        }
        finally
        {
            await Log.CloseAndFlushAsync();
        }
    }
}
