using System.Globalization;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace SetupAudit.Alerts.Support;

/// <summary>A syslog receiver on a loopback port: packets, counted frames, or counted frames over TLS.</summary>
internal sealed class SyslogReceiver : IDisposable
{
    private readonly UdpClient? _packets;
    private readonly TcpListener? _frames;
    private readonly X509Certificate2? _certificate;

    private SyslogReceiver(bool isUdp, X509Certificate2? certificate)
    {
        _certificate = certificate;
        if (isUdp) _packets = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        else _frames = new TcpListener(IPAddress.Loopback, 0);
        _frames?.Start();
    }

    public int Port => ((_packets?.Client.LocalEndPoint ?? _frames?.LocalEndpoint) as IPEndPoint)?.Port ?? 0;

    public static SyslogReceiver Udp() => new(true, null);

    public static SyslogReceiver Tcp() => new(false, null);

    public static SyslogReceiver Tls(X509Certificate2 certificate) => new(false, certificate);

    /// <summary>The next packet, or the frames of the next connection until its end.</summary>
    public async Task<IReadOnlyList<byte[]>> NextAsync(CancellationToken token)
    {
        if (_packets is not null) return [(await _packets.ReceiveAsync(token)).Buffer];
        if (_frames is null) return [];
        using var client = await _frames.AcceptTcpClientAsync(token);
        await using Stream stream = _certificate is null ? client.GetStream() : new SslStream(client.GetStream());
        if (stream is SslStream safe && _certificate is { } own)
            await safe.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificate = own }, token);
        using var all = new MemoryStream();
        await stream.CopyToAsync(all, token);
        return Frames(all.ToArray());
    }

    public void Dispose()
    {
        _packets?.Dispose();
        _frames?.Dispose();
    }

    // RFC 6587 3.4.1: MSG-LEN SP SYSLOG-MSG, until nothing is left.
    private static List<byte[]> Frames(byte[] bytes)
    {
        var frames = new List<byte[]>();
        for (var at = 0; at < bytes.Length;)
        {
            var blank = Array.IndexOf(bytes, (byte)' ', at);
            var length = int.Parse(Encoding.ASCII.GetString(bytes, at, blank - at), CultureInfo.InvariantCulture);
            frames.Add(bytes[(blank + 1)..(blank + 1 + length)]);
            at = blank + 1 + length;
        }
        return frames;
    }
}
