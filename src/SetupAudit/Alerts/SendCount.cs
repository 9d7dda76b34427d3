namespace SetupAudit.Alerts;

/// <summary>What came of trying to send once.</summary>
/// <param name="Waiting">Messages that stay queued: each receiver counts.</param>
/// <param name="GaveUp">Messages that will not arrive unless a person has them sent again.</param>
public sealed record SendCount(int Sent, int Waiting, int GaveUp)
{
    public static SendCount None { get; } = new(0, 0, 0);

    public static SendCount operator +(SendCount left, SendCount right) =>
        new(left.Sent + right.Sent, left.Waiting + right.Waiting, left.GaveUp + right.GaveUp);

    /// <summary>The sum of two.</summary>
    public static SendCount Add(SendCount left, SendCount right) => left + right;
}
