using FluentValidation;
using SetupAudit.Shop;
using SetupAudit.Store.Postgres;

namespace SetupAudit.Commands.Validation;

/// <summary>The connection text must be one: that it leads to a server shows when it is used.</summary>
internal static class StoreRules
{
    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        if (shop.Store.Postgres is { } text && PostgresPlace.FaultOf(text) is { } fault)
            context.AddFailure("Store.Postgres", fault);
    }
}
