using System.Net.Sockets;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;
using Serilog;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>Sends mail to one address; each receiver is told, and tried again, for itself.</summary>
internal sealed class MailChannel(MailConfig config, string to, TimeProvider time) : IAlertChannel
{
    /// <summary>RFC 5321 allows minutes a step; for an alert, a later try is better than a long wait.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(60);

    public string Name => "mail";

    public string To => to;

    public Task<SendResult> SendAsync(AlertMessage message, CancellationToken token) =>
        Trying.RunAsync(this, Limit, time, stop => SendOnceAsync(message, stop), token);

    private async Task<SendResult> SendOnceAsync(AlertMessage message, CancellationToken token)
    {
        var from = AddressOf(config.From, "From");
        var mail = MailWriter.Of(message, from, AddressOf(to, "To"), time.GetUtcNow());
        var password = config.Password is { } source ? (await SecretText.LinesAsync(source, token))[0] : null;
        var user = config.User ?? from.Address;
        using var trust = PeerTrust.With(config.CertificateFile);
        using var client = new SmtpClient
        {
            ServerCertificateValidationCallback = trust.Accepts,
            // As for every other way: few houses let a machine ask the lists of revoked certificates.
            CheckCertificateRevocation = false,
            Timeout = (int)Limit.TotalMilliseconds,
        };
        try
        {
            await client.ConnectAsync(config.Host, config.Port, Protection(config.Security), token);
            if (password is not null) await client.AuthenticateAsync(user, password, token);
            // Answers to commands sent in one go come in pieces that wait for each other, 40 ms a mail.
            client.Capabilities &= ~SmtpCapabilities.Pipelining;
            var answer = await client.SendAsync(mail, token);
            await QuitAsync(client, token);
            return new(SendOutcome.Sent, Told("The mail server has it", answer, user, password));
        }
        catch (SslHandshakeException fault)
        {
            return trust.Failed(fault);
        }
        catch (Exception fault) when (MailFault.Outcome(fault, client.IsConnected) is { } outcome)
        {
            return new(outcome, Told(MailFault.Words(fault), fault.Message, user, password));
        }
    }

    // What is sent is sent: a server that will not say goodbye takes nothing back.
    private static async Task QuitAsync(SmtpClient client, CancellationToken token)
    {
        try
        {
            await client.DisconnectAsync(quit: true, token);
        }
        catch (Exception fault) when (fault is IOException or SocketException or ProtocolException or CommandException
            or OperationCanceledException)
        {
            Log.Debug("The mail server broke off at the end: {Fault}", fault.GetType().Name);
        }
    }

    private static MailboxAddress AddressOf(string text, string key) => MailAddress.Parse(text)
        ?? throw new SendFaultException(SendOutcome.Final, $"{key} of Mail is no address.");

    private static SecureSocketOptions Protection(MailSecurity security) => security switch
    {
        MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
        MailSecurity.None => SecureSocketOptions.None,
        _ => SecureSocketOptions.StartTls,
    };

    private static string Told(string what, string answer, string user, string? password) =>
        $"{what}: {Trying.Reason(SecretText.Hide(answer, user, password))}";
}
