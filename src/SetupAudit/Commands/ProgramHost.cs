using System.Runtime.InteropServices;

namespace SetupAudit.Commands;

/// <summary>Runs the command line as this process: asks it to stop, once, where the process is asked to.</summary>
public static class ProgramHost
{
    public static async Task<int> RunAsync(IReadOnlyList<string> arguments)
    {
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
        return await CommandLine.RunAsync(arguments, Terminal.OfProcess(), stop.Token);
    }
}
