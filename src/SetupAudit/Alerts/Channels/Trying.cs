using System.Net.Sockets;
using Serilog;
using SetupAudit.Reports;

namespace SetupAudit.Alerts.Channels;

/// <summary>One try within its limit of time: what goes wrong on any way becomes an outcome here.</summary>
internal static class Trying
{
    private const int ReasonMost = 400;

    public static async Task<SendResult> RunAsync(
        IAlertChannel channel, TimeSpan limit, TimeProvider time, Func<CancellationToken, Task<SendResult>> send,
        CancellationToken token)
    {
        using var timer = new CancellationTokenSource(limit, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(token, timer.Token);
        try
        {
            return await send(either.Token);
        }
        catch (Exception fault)
        {
            // A connection that is broken off because we stop fails in many ways; none of them is the receiver's.
            token.ThrowIfCancellationRequested();
            if (timer.IsCancellationRequested)
                return new(SendOutcome.Temporary,
                    $"No answer within {limit.TotalSeconds:0} s; it may have arrived all the same.");
            return Told(channel, fault);
        }
    }

    /// <summary>What a receiver or the system said, fit to be shown and kept.</summary>
    public static string Reason(string text) => VisibleText.Of(text.Trim(), ReasonMost);

    private static SendResult Told(IAlertChannel channel, Exception fault)
    {
        switch (fault)
        {
            case SendFaultException known:
                return new(known.Outcome, known.Message);
            case IOException or SocketException or UnauthorizedAccessException:
                return new(SendOutcome.Temporary, Reason(fault.Message));
            default:
                // The last line of defence. Only its kind is logged: its text may hold what the receiver said.
                Log.Error("A fault of the program while sending by {Channel}: {Fault}",
                    channel.Name, fault.GetType().Name);
                return new(SendOutcome.Temporary, $"A fault of the program: {fault.GetType().Name}.");
        }
    }
}
