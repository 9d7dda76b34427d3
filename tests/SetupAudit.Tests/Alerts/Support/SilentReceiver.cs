using System.Net;
using System.Net.Sockets;

namespace SetupAudit.Alerts.Support;

/// <summary>Takes connections on a loopback port and never says a word.</summary>
internal sealed class SilentReceiver : IDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);

    public SilentReceiver() => _listener.Start();

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    public Task<TcpClient> AcceptAsync(CancellationToken token) => _listener.AcceptTcpClientAsync(token).AsTask();

    public void Dispose() => _listener.Dispose();
}
