using System.Globalization;
using FluentValidation;
using SetupAudit.Alerts.Channels;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>Addresses of mail: one that is none would be found out when an alert does not arrive.</summary>
internal static class MailRules
{
    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        if (shop.Alerts?.Mail is not { } mail) return;
        Expect(mail.From, "Alerts.Mail.From", context);
        for (var index = 0; index < mail.To.Count; index++)
            Expect(mail.To[index], string.Create(CultureInfo.InvariantCulture, $"Alerts.Mail.To[{index}]"), context);
    }

    private static void Expect(string text, string path, ValidationContext<ShopConfig> context)
    {
        if (!MailAddress.IsOne(text))
            context.AddFailure(path, "is no address; write it as audit@example.com or Audit <audit@example.com>");
    }
}
