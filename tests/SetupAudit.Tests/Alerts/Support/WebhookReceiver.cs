using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace SetupAudit.Alerts.Support;

/// <summary>
/// An HTTP receiver on a loopback port that reads one whole request a connection and then writes the bytes a test
/// gives, whatever HTTP says of them.
/// </summary>
internal sealed class WebhookReceiver : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly X509Certificate2? _certificate;
    private readonly Task _serving;

    public WebhookReceiver(string answer = "HTTP/1.1 204 No Content\r\n\r\n", X509Certificate2? certificate = null)
    {
        Answer = answer;
        _certificate = certificate;
        _listener.Start();
        _serving = ServeAsync();
    }

    /// <summary>Written after the request; then the connection is closed. Null to say nothing.</summary>
    public string? Answer { get; set; }

    public ConcurrentQueue<WebhookCall> Calls { get; } = [];

    public WebhookCall Only => Assert.Single(Calls);

    /// <summary>Set as soon as a request is read.</summary>
    public TaskCompletionSource Reached { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public string Url => string.Create(CultureInfo.InvariantCulture,
        $"{(_certificate is null ? "http" : "https")}://localhost:{((IPEndPoint)_listener.LocalEndpoint).Port}/hook?key=in-the-path");

    public static string Status(int code, string headers = "", string body = "") =>
        $"HTTP/1.1 {code} Said\r\nContent-Length: {body.Length}\r\n{headers}\r\n{body}";

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Dispose();
        await _serving;
        _stop.Dispose();
    }

    private async Task ServeAsync()
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                using var client = await _listener.AcceptTcpClientAsync(_stop.Token);
                await AnswerAsync(client);
            }
            catch (Exception fault) when (fault is OperationCanceledException or IOException or SocketException
                or ObjectDisposedException or System.Security.Authentication.AuthenticationException)
            {
                // The other side left, or the test is over.
            }
        }
    }

    private async Task AnswerAsync(TcpClient client)
    {
        await using Stream stream = _certificate is null ? client.GetStream() : new SslStream(client.GetStream());
        if (stream is SslStream safe && _certificate is { } own)
            await safe.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificate = own }, _stop.Token);
        Calls.Enqueue(await ReadAsync(stream));
        Reached.TrySetResult();
        if (Answer is { } answer) await stream.WriteAsync(Encoding.Latin1.GetBytes(answer), _stop.Token);
        else await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, _stop.Token);
    }

    private async Task<WebhookCall> ReadAsync(Stream stream)
    {
        var bytes = new List<byte>();
        var one = new byte[1];
        while (!EndsHead(bytes))
        {
            if (await stream.ReadAsync(one, _stop.Token) == 0) throw new IOException("cut off in the head");
            bytes.Add(one[0]);
        }
        var head = Encoding.ASCII.GetString([.. bytes]).TrimEnd().Split("\r\n");
        var headers = head[1..].Select(line => line.Split(": ", 2))
            .ToDictionary(pair => pair[0], pair => pair[1], StringComparer.OrdinalIgnoreCase);
        var body = new byte[int.Parse(headers["Content-Length"], CultureInfo.InvariantCulture)];
        await stream.ReadExactlyAsync(body, _stop.Token);
        return new WebhookCall(head[0], headers, body);
    }

    private static bool EndsHead(List<byte> bytes) =>
        bytes.Count >= 4 && bytes[^4] == '\r' && bytes[^3] == '\n' && bytes[^2] == '\r' && bytes[^1] == '\n';
}
