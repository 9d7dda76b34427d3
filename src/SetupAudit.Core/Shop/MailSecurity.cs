namespace SetupAudit.Shop;

/// <summary>How the way to a mail server is protected.</summary>
public enum MailSecurity
{
    /// <summary>The connection is made secret once it stands; a server that does not offer it gets nothing.</summary>
    StartTls,

    /// <summary>The connection is secret from its first byte.</summary>
    Tls,

    /// <summary>Anyone on the way can read and alter it.</summary>
    None,
}
