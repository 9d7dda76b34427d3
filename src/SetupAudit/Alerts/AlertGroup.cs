using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>
/// What is to be told together: of one setup, else of one machine; of sources that fell silent, one share.
/// </summary>
internal sealed record AlertGroup(string Thread, IReadOnlyList<StoredAlert> Alerts)
{
    // Machines are derived one after the other, so what became of all sources of a share is known a little later.
    private static readonly TimeSpan ShareWait = TimeSpan.FromSeconds(30);

    /// <summary>The share on which its silent sources lie; null where it is of something else.</summary>
    public string? Share { get; init; }

    /// <summary>When the first of them was put up.</summary>
    public DateTimeOffset SinceUtc => Alerts.Min(alert => alert.AtUtc);

    public static IReadOnlyList<AlertGroup> Of(
        IEnumerable<StoredAlert> alerts, Func<string, string, string, string?> shareOf) =>
    [
        .. alerts.Select(alert => (Alert: alert, Share: shareOf(alert.Machine, alert.Rule, alert.Finding)))
            .GroupBy(one => (one.Share, Thread: one.Share is { } share
                ? $"share {share}"
                : one.Alert.Setup ?? one.Alert.Machine), one => one.Alert)
            .Select(group => new AlertGroup(group.Key.Thread, [.. group.OrderBy(alert => alert.Seq)])
            {
                Share = group.Key.Share,
            })
            .OrderBy(group => group.SinceUtc).ThenBy(group => group.Thread, StringComparer.Ordinal),
    ];

    /// <summary>Whether it waited long enough for company.</summary>
    public bool IsDue(TimeSpan wait, DateTimeOffset nowUtc) => Share is null
        ? !Passing.IsWithin(SinceUtc, wait, nowUtc)
        : !Passing.IsWithin(Alerts.Max(alert => alert.AtUtc), ShareWait, nowUtc);
}
