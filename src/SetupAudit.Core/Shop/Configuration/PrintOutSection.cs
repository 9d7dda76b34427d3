using SetupAudit.Datums;

namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of PrintOuts: how the lines of one kind of print-out are read.</summary>
internal static class PrintOutSection
{
    private static readonly TypedShape<string> Means = Values.Words([.. PrintPattern.Meanings]);

    private static readonly TypedShape<string> By = Values.Words("measured", "entered", "program", "restored");

    private static readonly TypedShape<string> Of = Values.Words([.. ToolPartName.All]);

    private static readonly ObjectShape Line = new("an object with Match and Means",
    [
        new("Match", Values.TextAs("a regular expression")) { IsRequired = true },
        new("Means", Means) { IsRequired = true },
        new("Kind", Values.TextAs("what kind of alarm, such as surface-not-found")),
        new("By", By, "measured"),
        new("Of", Of, "length"),
    ], CheckTogether);

    public static ObjectShape Shape { get; } = new("an object with Lines",
    [
        new("Time", Values.TextAs("a .NET date format, such as yyyy-MM-dd HH:mm:ss")),
        new("Lines", new ListShape("a list of one or more patterns", Line, 1)) { IsRequired = true },
    ]);

    public static PrintOutConfig Read(string name, ConfigNode node) => new()
    {
        Name = name,
        Time = Values.Text.TextOrNull(node["Time"]),
        Lines = [.. (node["Lines"]?.Items ?? []).Select(ReadLine)],
    };

    // A faulty line stays in its place, as one that matches nothing, so that those behind it keep theirs.
    private static PrintPattern ReadLine(ConfigNode node) => new()
    {
        Match = Values.Text.Read(node["Match"], ""),
        Means = Means.Read(node["Means"], "note"),
        Kind = Values.Text.TextOrNull(node["Kind"]),
        By = By.TextOrNull(node["By"]),
        Of = Of.TextOrNull(node["Of"]),
    };

    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        if (!Means.TryRead(node["Means"], out var means)) return;
        if (means != "alarm") Only(node, check, "Kind", "alarm");
        if (means is not ("datum-set" or "tool-set")) Only(node, check, "By", "datum-set or tool-set");
        if (means != "tool-set") Only(node, check, "Of", "tool-set");
    }

    private static void Only(ConfigNode node, ConfigCheck check, string key, string means)
    {
        if (node.MemberOf(key) is { } member)
            check.Add(member.Value.Path, member.Place, $"is only for a line that means {means}");
    }
}
