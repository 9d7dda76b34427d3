using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using MimeKit;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace SetupAudit.Alerts.Support;

/// <summary>A mail server of its own on a loopback port, with TLS and AUTH as a test asks for them.</summary>
internal sealed class MailReceiver : MessageStore, IMailboxFilter, IAsyncDisposable
{
    public const string User = "audit";
    public const string Password = "Quite-A-Secret-7";

    private readonly CancellationTokenSource _stop = new();
    private readonly SmtpServer.SmtpServer _server;
    private readonly Task _running;

    public MailReceiver(
        X509Certificate2? certificate = null, bool isSecure = false, bool withUser = false, bool inTheClear = false)
    {
        Port = FreePort();
        var options = new SmtpServerOptionsBuilder().ServerName("localhost").Endpoint(endpoint =>
        {
            endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)).IsSecure(isSecure)
                .AuthenticationRequired(withUser).AllowUnsecureAuthentication(inTheClear);
            if (certificate is not null) endpoint.Certificate(certificate);
        }).Build();
        var parts = new ServiceProvider();
        parts.Add((IMessageStore)this);
        parts.Add((IMailboxFilter)this);
        parts.Add((IUserAuthenticator)new DelegatingUserAuthenticator((user, password) =>
            user == User && password == Password));
        _server = new SmtpServer.SmtpServer(options, parts);
        _server.SessionCreated += (_, _) => Interlocked.Increment(ref _sessions);
        _running = _server.StartAsync(_stop.Token);
    }

    private int _sessions;

    public int Port { get; }

    public int Sessions => _sessions;

    /// <summary>The answer to DATA; null to take the mail.</summary>
    public SmtpResponse? ToData { get; set; }

    /// <summary>The answer to RCPT; null to take it.</summary>
    public SmtpResponse? ToReceiver { get; set; }

    public ConcurrentQueue<MimeMessage> Mails { get; } = [];

    /// <summary>The mails as bytes, for what a parser hides.</summary>
    public ConcurrentQueue<string> Raw { get; } = [];

    public ConcurrentQueue<string> Receivers { get; } = [];

    public MimeMessage Only => Assert.Single(Mails);

    public override Task<SmtpResponse> SaveAsync(
        ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken token)
    {
        if (ToData is { } refusal) return Task.FromResult(refusal);
        var bytes = buffer.ToArray();
        Raw.Enqueue(System.Text.Encoding.Latin1.GetString(bytes));
        foreach (var to in transaction.To) Receivers.Enqueue($"{to.User}@{to.Host}");
        Mails.Enqueue(MimeMessage.Load(new MemoryStream(bytes), token));
        return Task.FromResult(SmtpResponse.Ok);
    }

    public Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken token) =>
        Task.FromResult(true);

    public Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken token) =>
        ToReceiver is { } refusal ? throw new SmtpResponseException(refusal) : Task.FromResult(true);

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _server.Shutdown();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // That is how it ends.
        }
        _stop.Dispose();
    }

    // The server cannot be asked which port the system picked for it.
    private static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }
}
