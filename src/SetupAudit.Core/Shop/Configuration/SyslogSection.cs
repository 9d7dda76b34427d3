namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts.Syslog: where syslog messages go, and as what.</summary>
internal static class SyslogSection
{
    private const int PortOfUdp = 514;
    private const int UsualPort = 6514;

    private static readonly TypedShape<int> Port = Values.Whole(1, 65535);

    private static readonly TypedShape<SyslogProtocol> Protocols = Values.Words(
        ("tcp", SyslogProtocol.Tcp), ("udp", SyslogProtocol.Udp), ("tls", SyslogProtocol.Tls));

    // RFC 5424, table 1: the facilities a program of ours may speak as.
    private static readonly TypedShape<int> Facilities = Values.Words(
        ("user", 1), ("daemon", 3), ("local0", 16), ("local1", 17), ("local2", 18), ("local3", 19), ("local4", 20),
        ("local5", 21), ("local6", 22), ("local7", 23));

    // RFC 5424 6.3.2 sets no end; the registry gives out numbers of at most 32 bits, less one.
    private static readonly TypedShape<int> Enterprise = Values.Whole(1, int.MaxValue);

    public static ObjectShape Shape { get; } = new("an object with Host",
    [
        new("Host", Values.Text) { IsRequired = true },
        new("Port", Port, "6514, or 514 for udp"),
        new("Protocol", Protocols, "tcp"),
        new("Facility", Facilities, "local0"),
        new("EnterpriseNumber", Enterprise, "32473"),
        new("CertificateFile", Values.Path),
    ], Check);

    public static SyslogConfig? Read(ConfigNode? node, Folders folders)
    {
        if (node is null) return null;
        var protocol = Protocols.Read(node["Protocol"], SyslogProtocol.Tcp);
        return new SyslogConfig
        {
            Host = Values.Text.Read(node["Host"], ""),
            Port = Port.Read(node["Port"], protocol == SyslogProtocol.Udp ? PortOfUdp : UsualPort),
            Protocol = protocol,
            Facility = Facilities.Read(node["Facility"], 16),
            EnterpriseNumber = Enterprise.Read(node["EnterpriseNumber"], SyslogConfig.ExampleNumber),
            CertificateFile = folders.OrNull(node["CertificateFile"]),
        };
    }

    private static void Check(ConfigNode node, ConfigCheck check)
    {
        if (node["CertificateFile"] is not { } file) return;
        if (Protocols.Read(node["Protocol"], SyslogProtocol.Tcp) != SyslogProtocol.Tls)
            check.Add(file.Path, file.Place, "says whom to trust, but only tls looks at it; set Protocol to tls");
    }
}
