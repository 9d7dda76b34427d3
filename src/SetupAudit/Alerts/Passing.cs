namespace SetupAudit.Alerts;

/// <summary>
/// Whether a time has passed since a recorded moment. A clock that was put back must not make anything wait for the
/// hour to come again: what lies well ahead of the clock counts as long past.
/// </summary>
internal static class Passing
{
    // Less than this is no clock that was put back, but one that is being kept right.
    private static readonly TimeSpan Slack = TimeSpan.FromSeconds(5);

    public static bool IsWithin(DateTimeOffset sinceUtc, TimeSpan time, DateTimeOffset nowUtc) =>
        nowUtc - sinceUtc < time && !IsAhead(sinceUtc, nowUtc);

    /// <summary>Whether a moment that was recorded as the present lies ahead: the clock was put back since.</summary>
    public static bool IsAhead(DateTimeOffset recordedUtc, DateTimeOffset nowUtc) => recordedUtc - nowUtc > Slack;
}
