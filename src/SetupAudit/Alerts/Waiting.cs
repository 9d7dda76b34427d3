using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>A message on its way to one receiver.</summary>
/// <param name="SinceUtc">When it was put up, or put up again: it is tried for so long from then on.</param>
internal sealed record Waiting(StoredMessage Message, StoredSending Last, DateTimeOffset SinceUtc)
{
    /// <summary>Whether its wait is over; a clock that was put back since does not make it longer.</summary>
    public bool IsDue(DateTimeOffset nowUtc) => !(Last.NextUtc > nowUtc) || Passing.IsAhead(Last.AtUtc, nowUtc);
}
