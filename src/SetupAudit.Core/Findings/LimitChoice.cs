using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>One configured limit against one offset of a machine: whether it is for it, and if not, why.</summary>
/// <param name="WhyNot">In words that go on from "it"; null where the limit is for the offset.</param>
public sealed record LimitChoice(LimitConfig Limit, string? WhyNot)
{
    /// <summary>
    /// The limits in their order up to the first that is for the offset, which is the one that holds; all of them where
    /// none is.
    /// </summary>
    public static IReadOnlyList<LimitChoice> Of(ShopConfig shop, MachineConfig machine, OffsetKey key)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(machine);
        var choices = new List<LimitChoice>();
        foreach (var limit in shop.Limits)
        {
            choices.Add(new LimitChoice(limit, LimitMatch.WhyNot(limit, machine, key)));
            if (choices[^1].WhyNot is null) break;
        }
        return choices;
    }

    /// <summary>What the limit says, in words: "moved by more than 0.5 mm while production runs".</summary>
    public static string Says(LimitConfig limit, MachineConfig machine, OffsetKey key)
    {
        ArgumentNullException.ThrowIfNull(limit);
        return LimitWords.Whole(limit, limit.UnitOn(key, machine));
    }
}
