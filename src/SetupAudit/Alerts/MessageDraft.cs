using System.Security.Cryptography;
using System.Text;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What a message is to tell, before its words are looked up.</summary>
internal sealed record MessageDraft(AlertKind Kind, string Thread, IReadOnlyList<StoredAlert> Tells)
{
    public const string SeveralSetups = "several setups";

    private const int IdDigits = 32;

    /// <summary>The share on which its silent sources lie; null where it is of something else.</summary>
    public string? Share { get; init; }

    /// <summary>Of what holds; of what cleared only where nothing else is told.</summary>
    public Severity Severity => (IsAllCleared ? Tells : Tells.Where(alert => alert.Step != AlertStep.Withdrawn))
        .Max(alert => alert.Severity);

    public bool IsAllCleared => Tells.All(alert => alert.Step == AlertStep.Withdrawn);

    /// <summary>What holds before what cleared, then the graver, then the earlier: as they are named.</summary>
    public static IOrderedEnumerable<StoredAlert> Ranked(IEnumerable<StoredAlert> alerts) => alerts
        .OrderBy(alert => alert.Step == AlertStep.Withdrawn).ThenByDescending(alert => alert.Severity)
        .ThenBy(alert => alert.Seq);

    /// <summary>
    /// The same for the same words about the same findings: a message that is put up twice is recognised by it.
    /// </summary>
    public string Id
    {
        get
        {
            var words = Tells.OrderBy(alert => alert.Seq)
                .Select(alert => FormattableString.Invariant($"{alert.Machine}|{alert.Finding}|{alert.Seq}"));
            var hash = SHA256.HashData(Encoding.UTF8.GetBytes($"{Kind}\n{string.Join('\n', words)}"));
            return $"{Kind.ToString().ToLowerInvariant()}-{Convert.ToHexStringLower(hash)[..IdDigits]}";
        }
    }

    /// <summary>The draft of one group; null where nothing of it is to be told.</summary>
    public static MessageDraft? Of(AlertGroup group, IReadOnlyList<StoredAlert> tells)
    {
        if (tells.Count == 0) return null;
        var draft = new MessageDraft(AlertKind.Raised, group.Thread, [.. Ranked(tells)]) { Share = group.Share };
        return draft.IsAllCleared ? draft with { Kind = AlertKind.Cleared } : draft;
    }
}
