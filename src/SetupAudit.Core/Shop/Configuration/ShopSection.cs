namespace SetupAudit.Shop.Configuration;

/// <summary>The key Shop: what holds for all machines.</summary>
internal static class ShopSection
{
    private const int MinutesMost = 525_600;

    private static readonly TypedShape<int> Minutes = Values.Whole(1, MinutesMost);
    private static readonly WatchConfig Usual =
        new() { Index = 0, Folder = "", FullFolder = "", Files = "", Read = SourceKind.DataSetting };

    public static ObjectShape Shape { get; } = new("an object with Name and TimeZone",
    [
        new("Name", Values.TextAs("the shop's name")) { IsRequired = true },
        new("TimeZone", Values.TimeZone) { IsRequired = true },
        new("FreshMinutes", Minutes, "60"),
        new("Poll", Values.SpanAbove0, "00:00:02"),
        new("Settle", Values.Span, "00:00:02"),
        new("Rehash", Values.SpanAbove0, "00:15:00"),
    ]);

    public static string Name(ConfigNode? node) => Values.Text.Read(node?["Name"], "");

    public static string TimeZone(ConfigNode? node) => Values.Text.Read(node?["TimeZone"], "");

    public static int FreshMinutes(ConfigNode? node) => Minutes.Read(node?["FreshMinutes"], 60);

    /// <summary>How often folders are looked at where a Watch entry does not say otherwise.</summary>
    public static WatchTiming Timing(ConfigNode? node) =>
        WatchTiming.Read(node, new(Usual.Poll, Usual.Settle, Usual.Rehash));
}
