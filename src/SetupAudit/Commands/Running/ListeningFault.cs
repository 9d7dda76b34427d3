using System.Net.Sockets;

namespace SetupAudit.Commands.Running;

/// <summary>Why the page cannot listen at its address, as a sentence for the person who runs the service.</summary>
internal static class ListeningFault
{
    /// <summary>Starts the host; throws a sentence where its address cannot be listened on.</summary>
    public static async Task StartListeningAsync(this WebApplication web, string url, CancellationToken token)
    {
        try
        {
            await web.StartAsync(token);
        }
        catch (OperationCanceledException) when (web.Lifetime.ApplicationStopping.IsCancellationRequested)
        {
            // A part of it ended meanwhile, and says why.
            await web.StopAsync(CancellationToken.None);
        }
        catch (Exception fault) when (CodeOf(fault) is { } code)
        {
            // What began beside it stops where nothing is lost.
            await web.StopAsync(CancellationToken.None);
            // It is the computer's state that is in the way, not the configuration's form.
            throw new CommandException(Sentence(url, code), ExitCode.SomethingWrong);
        }
    }

    internal static string Sentence(string url, SocketError code) => $"Web.Url: cannot listen on {url}: " + code switch
    {
        SocketError.AddressAlreadyInUse =>
            "another program on this computer listens there, perhaps another setupaudit that runs already. Stop that "
            + "one, or give Web.Url another port.",
        SocketError.AccessDenied =>
            "the account of this process may not. Ports below 1024 are often kept for the system: give Web.Url a "
            + "higher one.",
        SocketError.AddressNotAvailable => "this computer has no such address now.",
        _ => $"{new SocketException((int)code).Message}.",
    };

    private static SocketError? CodeOf(Exception? fault)
    {
        for (; fault is not null; fault = fault.InnerException)
            if (fault is SocketException socket) return socket.SocketErrorCode;
        return null;
    }
}
