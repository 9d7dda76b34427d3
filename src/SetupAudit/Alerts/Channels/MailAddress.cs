using MimeKit;

namespace SetupAudit.Alerts.Channels;

/// <summary>Addresses of mail as the configuration gives them.</summary>
public static class MailAddress
{
    private static readonly ParserOptions Strict = new()
    {
        AddressParserComplianceMode = RfcComplianceMode.Strict,
        AllowAddressesWithoutDomain = false,
    };

    /// <summary>Whether the text is one address, with or without a name before it.</summary>
    public static bool IsOne(string text) => Parse(text) is not null;

    internal static MailboxAddress? Parse(string text) =>
        !text.Any(char.IsControl) && MailboxAddress.TryParse(Strict, text, out var address) ? address : null;
}
