using System.Globalization;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Text;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Sends a message by syslog: a packet (RFC 5426), or a counted frame over TCP (RFC 6587 3.4.1) or TLS (RFC 5425). No
/// receiver answers on any of them, so what went out is never more than unconfirmed.
/// </summary>
internal sealed class SyslogChannel : IAlertChannel
{
    /// <summary>What a receiver of packets should take (RFC 5426 3.2).</summary>
    public const int PacketMostOctets = 2048;

    /// <summary>What a receiver over TLS should take (RFC 5425 4.3.1).</summary>
    public const int FrameMostOctets = 8192;

    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(20);

    // For the far computer to say that nobody listens there; it is said at once or never.
    private static readonly TimeSpan Refusal = TimeSpan.FromMilliseconds(100);

    // For the far end to close after all was read.
    private static readonly TimeSpan Parting = TimeSpan.FromMilliseconds(500);

    private readonly SyslogConfig _config;
    private readonly TimeProvider _time;
    private readonly SyslogWriter _writer;

    public SyslogChannel(SyslogConfig config, TimeProvider time)
    {
        _config = config;
        _time = time;
        _writer = new SyslogWriter(config, Environment.MachineName, Environment.ProcessId);
    }

    public string Name => "syslog";

    public string To => string.Create(CultureInfo.InvariantCulture,
        $"{_config.Protocol.ToString().ToLowerInvariant()}://{_config.Host}:{_config.Port}");

    public Task<SendResult> SendAsync(AlertMessage message, CancellationToken token) =>
        Trying.RunAsync(this, Limit, _time, stop => SendOnceAsync(message, stop), token);

    private async Task<SendResult> SendOnceAsync(AlertMessage message, CancellationToken token)
    {
        var entry = _writer.Of(message, _time.GetUtcNow());
        if (_config.Protocol == SyslogProtocol.Udp)
        {
            await SendPacketAsync(SyslogFormat.Of(entry, PacketMostOctets), token);
            return Unconfirmed("Sent as a packet");
        }
        return await SendFrameAsync(SyslogFormat.Of(entry, FrameMostOctets), token);
    }

    private async Task SendPacketAsync(byte[] packet, CancellationToken token)
    {
        using var socket = new Socket(SocketType.Dgram, ProtocolType.Udp);
        await socket.ConnectAsync(_config.Host, _config.Port, token);
        await socket.SendAsync(packet, token);
        await WithinAsync(Refusal, async stop => await socket.ReceiveAsync(new byte[1], stop), token);
    }

    private async Task<SendResult> SendFrameAsync(byte[] entry, CancellationToken token)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(_config.Host, _config.Port, token);
        await using var plain = client.GetStream();
        var count = entry.Length.ToString(CultureInfo.InvariantCulture) + " ";
        byte[] frame = [.. Encoding.ASCII.GetBytes(count), .. entry];
        if (_config.Protocol == SyslogProtocol.Tcp)
        {
            await plain.WriteAsync(frame, token);
            await PartAsync(client, plain, token);
            return Unconfirmed("Sent");
        }
        using var trust = PeerTrust.With(_config.CertificateFile);
        await using var safe = new SslStream(plain, leaveInnerStreamOpen: true, trust.Accepts);
        try
        {
            await safe.AuthenticateAsClientAsync(
                new SslClientAuthenticationOptions { TargetHost = _config.Host }, token);
        }
        catch (AuthenticationException fault)
        {
            return trust.Failed(fault);
        }
        await safe.WriteAsync(frame, token);
        await safe.ShutdownAsync();
        await PartAsync(client, safe, token);
        return Unconfirmed("Sent");
    }

    // A receiver that reads what was sent closes after us; one that is gone resets the connection, which shows here.
    private async Task PartAsync(TcpClient client, Stream stream, CancellationToken token)
    {
        client.Client.Shutdown(SocketShutdown.Send);
        var answer = new byte[1];
        await WithinAsync(
            Parting, async stop => await stream.ReadAtLeastAsync(answer, 1, throwOnEndOfStream: false, stop), token);
    }

    private async Task WithinAsync(TimeSpan most, Func<CancellationToken, Task> wait, CancellationToken token)
    {
        using var timer = new CancellationTokenSource(most, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(token, timer.Token);
        try
        {
            await wait(either.Token);
        }
        catch (OperationCanceledException) when (!token.IsCancellationRequested)
        {
            // Silence: the most that can be known of a way without answers.
        }
    }

    private static SendResult Unconfirmed(string how) =>
        new(SendOutcome.SentUnconfirmed, $"{how}; syslog has no way to say that it arrived.");
}
