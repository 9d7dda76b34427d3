using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>
/// What of the whole configuration needs judgement. Property names of failures are paths into the JSON.
/// </summary>
internal sealed class ShopConfigValidator : AbstractValidator<ShopConfig>
{
    public ShopConfigValidator()
    {
        RuleFor(shop => shop.TimeZone).IsTimeZone().OverridePropertyName("Shop.TimeZone");
        RuleForEach(shop => shop.Machines)
            .OverrideIndexer((_, _, machine, _) => "." + machine.Name)
            .SetValidator(shop => new MachineValidator(shop));
        RuleForEach(shop => shop.PrintOuts.Values)
            .OverrideIndexer((_, _, printOut, _) => "." + printOut.Name)
            .SetValidator(new PrintOutValidator())
            .OverridePropertyName("PrintOuts");
        RuleFor(shop => shop).Custom(NameRules.Check);
        RuleFor(shop => shop).Custom(FolderRules.Check);
        RuleFor(shop => shop).Custom(LimitRules.Check);
        RuleFor(shop => shop).Custom(MailRules.Check);
        RuleFor(shop => shop).Custom(TimeStampRules.Check);
        RuleFor(shop => shop).Custom(StoreRules.Check);
    }
}
