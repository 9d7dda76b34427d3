using System.Net;

namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts.Mail: the mail server, and who is told.</summary>
internal static class MailSection
{
    private const int PortOfTls = 465;
    private const int UsualPort = 587;

    private static readonly TypedShape<int> Port = Values.Whole(1, 65535);

    private static readonly TypedShape<MailSecurity> Securities = Values.Words(
        ("starttls", MailSecurity.StartTls), ("tls", MailSecurity.Tls), ("none", MailSecurity.None));

    public static ObjectShape Shape { get; } = new("an object with Host, From and To",
    [
        new("Host", Values.Text) { IsRequired = true },
        new("Port", Port, "587"),
        new("Security", Securities, "starttls, or tls on port 465"),
        new("From", Values.Text) { IsRequired = true },
        new("To", new ListShape("a list of one or more addresses", Values.Text, 1)) { IsRequired = true },
        new("User", Values.Text, "the address of From"),
        .. SecretKeys.Of("Password"),
        new("CertificateFile", Values.Path),
    ], Check)
    { Refused = SecretKeys.Refused("Password", "Password") };

    public static MailConfig? Read(ConfigNode? node, Folders folders)
    {
        if (node is null) return null;
        var port = Port.Read(node["Port"], UsualPort);
        return new MailConfig
        {
            Host = Values.Text.Read(node["Host"], ""),
            Port = port,
            Security = Securities.Read(node["Security"], Usual(port)),
            From = Values.Text.Read(node["From"], ""),
            To = Values.Text.Each(node["To"]),
            User = Values.Text.TextOrNull(node["User"]),
            Password = SecretKeys.Read(node, "Password", folders),
            CertificateFile = folders.OrNull(node["CertificateFile"]),
        };
    }

    private static MailSecurity Usual(int port) => port == PortOfTls ? MailSecurity.Tls : MailSecurity.StartTls;

    private static void Check(ConfigNode node, ConfigCheck check)
    {
        SecretKeys.CheckOne(node, check, "Password");
        var hasPassword = node["PasswordFile"] is not null || node["PasswordVariable"] is not null;
        if (node["User"] is { } user && !hasPassword)
            check.Add(user.Path, user.Place, "has no password; give the file that holds it as PasswordFile");
        if (!hasPassword || !Securities.TryRead(node["Security"], out var security)) return;
        if (security != MailSecurity.None || IsThisMachine(Values.Text.Read(node["Host"], ""))) return;
        check.Add(ConfigPath.Member(node.Path, "Security"), node["Security"]?.Place ?? node.Place,
            "would send the password for all on the way to read; use starttls or tls "
                + "(none only to this machine itself)");
    }

    private static bool IsThisMachine(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address));
}
