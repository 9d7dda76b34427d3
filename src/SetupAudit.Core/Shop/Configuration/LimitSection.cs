using SetupAudit.Units;

namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of Limits: how far an offset may move.</summary>
internal static class LimitSection
{
    private static readonly TypedShape<Unit> Units =
        Values.Words(("mm", Unit.Millimetre), ("inch", Unit.Inch), ("deg", Unit.Degree));

    private static readonly TypedShape<LimitApplies> Applies = Values.Words(
        ("always", LimitApplies.Always), ("running", LimitApplies.Running), ("setup", LimitApplies.Setup));

    private static readonly TypedShape<LimitDirection> Directions =
        Values.Words(("up", LimitDirection.Up), ("down", LimitDirection.Down));

    private static readonly TypedShape<string> ToolPattern = new("a tool number or a pattern such as *", ReadTool);

    public static ObjectShape Shape { get; } = new("an object such as { \"Register\": \"G5*\", \"Change\": 0.5 }",
    [
        new("Machine", Values.TextAs("a pattern of machine names, such as mill-*"), "*"),
        new("Register", Values.TextAs("a pattern of register names, such as G5*")),
        new("Axis", Values.TextAs("an axis or *"), "*"),
        new("Tool", ToolPattern),
        new("Of", Values.TextAs("a pattern of tool parts, such as length*"), "*"),
        new("Change", Values.NumberFrom0),
        new("Direction", Directions, "both ways"),
        new("Between", Values.Range),
        new("Unit", Units, "the machine's"),
        new("Within", Values.SpanAbove0),
        new("Applies", Applies, "always"),
    ], CheckTogether);

    public static LimitConfig Read(ConfigNode node, int index) => new()
    {
        Index = index,
        Machine = Values.Text.Read(node["Machine"], "*"),
        Register = Values.Text.TextOrNull(node["Register"]),
        Axis = Values.Text.Read(node["Axis"], "*"),
        Tool = ToolPattern.TextOrNull(node["Tool"]),
        Of = Values.Text.Read(node["Of"], "*"),
        Change = Values.NumberFrom0.OrNull(node["Change"]),
        Direction = Directions.OrNull(node["Direction"]),
        Between = Values.Range.OrNull(node["Between"]),
        Unit = Units.OrNull(node["Unit"]),
        Within = Values.SpanAbove0.OrNull(node["Within"]),
        Applies = Applies.Read(node["Applies"], LimitApplies.Always),
    };

    private static bool ReadTool(ConfigNode node, out string value)
    {
        value = node.Text;
        return node.Kind is ConfigKind.Text or ConfigKind.Number && !string.IsNullOrWhiteSpace(value);
    }

    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        var (register, tool) = (node.MemberOf("Register"), node.MemberOf("Tool"));
        if (register is null && tool is null) check.Missing(node, "Register", "Register or Tool");
        if (register is not null && tool is not null)
            check.Add(tool.Value.Path, tool.Place, "stands beside Register; a limit is for registers or for tools");
        if (register is null && node.MemberOf("Axis") is { } axis && tool is not null)
            check.Add(axis.Value.Path, axis.Place, "is for registers; a tool's part is named by Of");
        if (tool is null && node.MemberOf("Of") is { } of && register is not null)
            check.Add(of.Value.Path, of.Place, "is for tools; a register's axis is named by Axis");
        CheckWhat(node, check);
    }

    private static void CheckWhat(ConfigNode node, ConfigCheck check)
    {
        if (node.MemberOf("Change") is not null) return;
        if (node.MemberOf("Between") is null) check.Missing(node, "Change", "Change or Between");
        foreach (var name in (string[])["Direction", "Within"])
            if (node.MemberOf(name) is { } member)
                check.Add(member.Value.Path, member.Place, "is for Change, which is not here");
    }
}
