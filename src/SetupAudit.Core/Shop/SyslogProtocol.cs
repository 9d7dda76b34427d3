namespace SetupAudit.Shop;

/// <summary>How syslog messages travel.</summary>
public enum SyslogProtocol
{
    /// <summary>A message a packet; one that is lost is lost without a word.</summary>
    Udp,

    Tcp,

    Tls,
}
