using System.Text.RegularExpressions;
using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>Time stamps: how often, and under which policy.</summary>
internal static partial class TimeStampRules
{
    private static readonly TimeSpan OftenMost = TimeSpan.FromMinutes(1);

    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        if (shop.Store.TimeStamps is not { } stamps) return;
        // Each stamp is kept, and checked by every verify: one a minute is half a million a year.
        if (stamps.Every < OftenMost)
            context.AddFailure("Store.TimeStamps.Every", "is less than 00:01:00; stamps that often tell nothing more");
        if (stamps.Policy is { } policy && !Identifier.IsMatch(policy))
            context.AddFailure("Store.TimeStamps.Policy",
                "is no object identifier; write its numbers with points between, such as 1.2.3.4");
    }

    // ITU-T X.660: the first number is 0, 1 or 2, and below 2 the second is at most 39.
    [GeneratedRegex(@"\A(?:[01]\.(?:[0-9]|[123][0-9])|2\.(?:0|[1-9][0-9]{0,8}))(?:\.(?:0|[1-9][0-9]{0,8})){0,30}\z",
        RegexOptions.NonBacktracking)]
    private static partial Regex Identifier { get; }
}
