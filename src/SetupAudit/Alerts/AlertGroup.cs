using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What is to be told together: of one setup, else of one machine; of sources that fell silent, all.</summary>
internal sealed record AlertGroup(string Thread, IReadOnlyList<StoredAlert> Alerts)
{
    /// <summary>
    /// A share that is gone makes every source on it silent, whichever machines they belong to: that is one message.
    /// </summary>
    private const string SilentSource = "silent-source";

    /// <summary>When the first of them was put up.</summary>
    public DateTimeOffset SinceUtc => Alerts.Min(alert => alert.AtUtc);

    public Severity Severity => Alerts.Max(alert => alert.Severity);

    public static IReadOnlyList<AlertGroup> Of(IEnumerable<StoredAlert> alerts) =>
    [
        .. alerts.GroupBy(alert => alert.Rule == SilentSource ? SilentSource : alert.Setup ?? alert.Machine,
                StringComparer.Ordinal)
            .Select(group => new AlertGroup(group.Key, [.. group.OrderBy(alert => alert.Seq)]))
            .OrderBy(group => group.SinceUtc).ThenBy(group => group.Thread, StringComparer.Ordinal),
    ];
}
