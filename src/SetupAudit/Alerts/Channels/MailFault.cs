using System.Globalization;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace SetupAudit.Alerts.Channels;

/// <summary>What a failure of a mail server means: RFC 5321 4.2.1, 4yz for a time and 5yz for good.</summary>
internal static class MailFault
{
    /// <summary>Null for what is no failure of the server.</summary>
    /// <param name="isConnected">Whether the connection stood: else a thing not offered was the safe way.</param>
    public static SendOutcome? Outcome(Exception fault, bool isConnected) => fault switch
    {
        // MailKit gives the answer to AUTH only in the text, "454: 4.7.0 ...".
        AuthenticationException { Message: ['4', ..] } => SendOutcome.Temporary,
        AuthenticationException or SaslException or ServiceNotAuthenticatedException => SendOutcome.Final,
        SmtpCommandException command => ByCode((int)command.StatusCode),
        NotSupportedException => isConnected ? SendOutcome.Permanent : SendOutcome.Final,
        ProtocolException or ServiceNotConnectedException => SendOutcome.Temporary,
        _ => null,
    };

    public static string Words(Exception fault) => fault switch
    {
        AuthenticationException or SaslException => "The mail server did not accept user and password",
        ServiceNotAuthenticatedException => "The mail server asks for a user and password",
        SmtpCommandException command => string.Create(CultureInfo.InvariantCulture,
            $"The mail server answered {(int)command.StatusCode}"),
        NotSupportedException => "The mail server does not offer what is needed",
        _ => "The mail server broke off",
    };

    // 530, 534 and 538 ask for signing in, in another way than was tried.
    private static SendOutcome ByCode(int code) => code switch
    {
        530 or 534 or 535 or 538 => SendOutcome.Final,
        >= 500 => SendOutcome.Permanent,
        _ => SendOutcome.Temporary,
    };
}
