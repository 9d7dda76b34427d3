namespace SetupAudit.Shares;

/// <summary>How long a share is gone each time.</summary>
internal sealed class Outages(int seed, bool isShort)
{
    private readonly Random _random = new(seed);

    /// <summary>Mostly short; one in twenty outlasts the time-outs of every mount.</summary>
    public TimeSpan Next() => TimeSpan.FromSeconds(
        isShort ? 0.5 : _random.Next(20) == 0 ? 4 + (_random.NextDouble() * 10) : 0.2 + _random.NextDouble());
}
