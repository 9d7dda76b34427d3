using SetupAudit.Shop;

namespace SetupAudit.Shapes;

/// <summary>Says of a watched folder what it can tell and what not, by how it is configured.</summary>
public static class Coverage
{
    private static readonly string[] Streams =
        ["registers", "tools", "program", "cycle-start", "cycle-end", "count", "alarm"];

    /// <summary>The folder and its glob, as the configuration writes them.</summary>
    public static string SourceName(WatchConfig watch) => $"{watch.Folder}/{watch.Files}";

    public static CoverageView Of(
        ShopConfig shop, MachineConfig machine, WatchConfig watch, DateTimeOffset? lastUtc) => new()
        {
            Machine = machine.Name,
            Source = SourceName(watch),
            Tells = Tells(shop, watch),
            LastUtc = lastUtc,
            CannotTell = [.. CannotTell(shop, watch)],
        };

    private static string[] Tells(ShopConfig shop, WatchConfig watch) => watch switch
    {
        { IsToLoad: true } => ["values that wait to be loaded"],
        { Read: SourceKind.DataSetting or SourceKind.Parameters or SourceKind.Table } => ["registers", "tools"],
        { Read: SourceKind.Program } => ["programs", "program-writes", "probing moves"],
        { Read: SourceKind.PrintOut } => [.. Means(shop, watch)],
        { Read: SourceKind.Mtconnect } => Streams,
        _ => [],
    };

    private static IEnumerable<string> CannotTell(ShopConfig shop, WatchConfig watch) => watch switch
    {
        { IsToLoad: true } => ["what the control holds", "whether and when they were loaded"],
        { Read: SourceKind.DataSetting or SourceKind.Parameters or SourceKind.Table } => OfDump(watch),
        { Read: SourceKind.Program } =>
            ["when a program ran", "which version of it the control held", "what was changed at the control itself"],
        { Read: SourceKind.PrintOut } => OfPrintOut([.. Means(shop, watch)]),
        { Read: SourceKind.Mtconnect } =>
        [
            "what the agent does not offer: few tell work offsets and tool offsets",
            "by whom or by what a value was changed",
            "an axis touched again that gave the same value",
            "which tool the length or radius in force belongs to",
            "how a cycle ended that the agent neither calls completed nor counts a part for",
            "what happened while the agent was down, or while it said UNAVAILABLE",
            "what happened between two documents that show only how all stood",
        ],
        _ => [],
    };

    private static IEnumerable<string> OfDump(WatchConfig watch)
    {
        yield return "by whom or by what a value was changed";
        yield return "when between two dumps a value was changed";
        yield return "a value that was changed and put back between two dumps";
        yield return "an axis touched again that gave the same value";
        yield return "cycles";
        if (watch.Lag > TimeSpan.Zero) yield return $"how much up to {watch.Lag:c} earlier than its file the state is";
    }

    private static IEnumerable<string> OfPrintOut(IReadOnlyList<string> means)
    {
        yield return "values keyed in at the control";
        if (!means.Contains("cycle-start")) yield return "when a cycle starts";
        if (!means.Contains("cycle-end")) yield return "when a cycle ends";
        if (!means.Contains("datum-set") && !means.Contains("measured")) yield return "which datum was touched";
        if (!means.Contains("tool-set")) yield return "which tool was set";
        if (!means.Contains("alarm")) yield return "alarms";
        if (!means.Contains("setter")) yield return "who set up";
    }

    private static IEnumerable<string> Means(ShopConfig shop, WatchConfig watch) =>
        watch.Lines is { } name && shop.PrintOuts.GetValueOrDefault(name) is { } prints
            ? prints.Lines.Select(pattern => pattern.Means).Distinct()
            : [];
}
