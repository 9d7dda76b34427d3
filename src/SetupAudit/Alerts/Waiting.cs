using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>A message on its way to one receiver.</summary>
/// <param name="SinceUtc">When it was put up, or put up again: it is tried for so long from then on.</param>
internal sealed record Waiting(StoredMessage Message, StoredSending Last, DateTimeOffset SinceUtc)
{
    public bool IsDue(DateTimeOffset nowUtc) => !(Last.NextUtc > nowUtc);
}
