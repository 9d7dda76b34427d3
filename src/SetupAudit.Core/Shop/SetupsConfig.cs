namespace SetupAudit.Shop;

/// <summary>When setups pause, rejoin and close, and what counts as an adjustment.</summary>
public sealed record SetupsConfig
{
    public int QuietMinutes { get; init; } = 45;

    /// <summary>In the machine's unit where it is mm; an inch machine's limit is this divided by 25.4.</summary>
    public decimal AdjustmentLimit { get; init; } = 0.25m;

    public int ProgramLookbackHours { get; init; } = 12;

    public int RejoinHours { get; init; } = 72;
}
