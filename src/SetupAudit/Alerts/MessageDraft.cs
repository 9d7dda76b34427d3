using System.Security.Cryptography;
using System.Text;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What a message is to tell, before its words are looked up.</summary>
internal sealed record MessageDraft(AlertKind Kind, string Thread, IReadOnlyList<StoredAlert> Tells)
{
    private const int IdDigits = 32;

    public Severity Severity => Tells.Max(alert => alert.Severity);

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
    public static MessageDraft? Of(AlertGroup group, IReadOnlyList<StoredAlert> tells) => tells.Count == 0
        ? null
        : new MessageDraft(
            tells.All(alert => alert.Step == AlertStep.Withdrawn) ? AlertKind.Cleared : AlertKind.Raised,
            group.Thread, tells);
}
