using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// A source whose share does not answer: others are derived without it (contract, promise 2), and what is found then
/// says so.
/// </summary>
/// <param name="Folder">As configured.</param>
/// <param name="ReadUntilUtc">What it says up to here is known.</param>
public sealed record UnreadSource(string Folder, DateTimeOffset ReadUntilUtc)
{
    /// <summary>The finding, with what it lacks.</summary>
    public static Finding Tell(Finding finding, IReadOnlyList<UnreadSource> unread, ShopConfig shop)
    {
        ArgumentNullException.ThrowIfNull(finding);
        var missing = unread.Where(source => source.ReadUntilUtc < finding.AtUtc).ToList();
        if (missing.Count == 0) return finding;
        return finding with { Message = $"{finding.Message} {Sentence(missing, shop)}" };
    }

    /// <summary>What is to be said beside whatever was concluded without these, which are one or more.</summary>
    public static string Sentence(IReadOnlyList<UnreadSource> unread, ShopConfig shop)
    {
        var folders = Words.List(unread.Select(source => source.ReadUntilUtc == DateTimeOffset.MinValue
            ? source.Folder
            : $"{source.Folder} (read until {ShopTime.Text(source.ReadUntilUtc, shop)})"));
        return $"Found without {folders}, which cannot be read now and may tell otherwise.";
    }
}
