namespace SetupAudit.Shop.Configuration;

/// <summary>How often a folder is looked at and when a file in it is taken to be finished.</summary>
internal sealed record WatchTiming(TimeSpan Poll, TimeSpan Settle, TimeSpan Rehash)
{
    /// <summary>Poll, Settle and Rehash of Shop or of a Watch entry.</summary>
    public static WatchTiming Read(ConfigNode? node, WatchTiming usual) => new(
        Values.SpanAbove0.Read(node?["Poll"], usual.Poll),
        Values.Span.Read(node?["Settle"], usual.Settle),
        Values.SpanAbove0.Read(node?["Rehash"], usual.Rehash));
}
