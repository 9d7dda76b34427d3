namespace SetupAudit.Shop;

/// <summary>How often and how long alerts speak.</summary>
public sealed record AlertPacing
{
    /// <summary>How long a finding waits for others of its setup, to go with them in one message.</summary>
    public TimeSpan Group { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>After how long a stop that stands unanswered is told again; null for never.</summary>
    public TimeSpan? Remind { get; init; } = TimeSpan.FromHours(4);

    /// <summary>The most messages within <see cref="Within"/>; what is more goes into one that counts it.</summary>
    public int Most { get; init; } = 10;

    public TimeSpan Within { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>For how long a message is tried before it is given up.</summary>
    public TimeSpan GiveUp { get; init; } = TimeSpan.FromDays(3);
}
