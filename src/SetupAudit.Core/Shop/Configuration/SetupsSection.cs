namespace SetupAudit.Shop.Configuration;

/// <summary>The key Setups: when setups pause, rejoin and close.</summary>
internal static class SetupsSection
{
    private const int MinutesMost = 100_000;
    private const int HoursMost = 10_000;

    private static readonly SetupsConfig Usual = new();
    private static readonly TypedShape<int> Minutes = Values.Whole(1, MinutesMost);
    private static readonly TypedShape<int> Hours = Values.Whole(0, HoursMost);

    public static ObjectShape Shape { get; } = new("an object such as { \"QuietMinutes\": 45 }",
    [
        new("QuietMinutes", Minutes, "45"),
        new("AdjustmentLimit", Values.NumberFrom0, "0.25"),
        new("ProgramLookbackHours", Hours, "12"),
        new("RejoinHours", Hours, "72"),
    ]);

    public static SetupsConfig Read(ConfigNode? node) => new()
    {
        QuietMinutes = Minutes.Read(node?["QuietMinutes"], Usual.QuietMinutes),
        AdjustmentLimit = Values.NumberFrom0.Read(node?["AdjustmentLimit"], Usual.AdjustmentLimit),
        ProgramLookbackHours = Hours.Read(node?["ProgramLookbackHours"], Usual.ProgramLookbackHours),
        RejoinHours = Hours.Read(node?["RejoinHours"], Usual.RejoinHours),
    };
}
