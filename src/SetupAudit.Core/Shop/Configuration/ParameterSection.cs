using SetupAudit.Datums;

namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a machine's Parameters: which numbers of a control hold what.</summary>
internal static class ParameterSection
{
    private const int NumberMost = 9_999_999;

    private static readonly TypedShape<int> Number = Values.Whole(1, NumberMost);

    private static readonly TypedShape<string> Meaning = Values.TextAs("what the number is, such as measured size");

    private static readonly TypedShape<ToolPart> Of =
        Values.Words([.. Enum.GetValues<ToolPart>().Select(part => (ToolPartName.Of(part), part))]);

    public static ObjectShape Shape { get; } = new("an object with First, or with Number and Is",
    [
        new("First", Number),
        new("Step", Number, "the number of Axes, or 1"),
        new("Registers", NumberRanges.Registers),
        new("Axes", Values.Axes),
        new("Tools", NumberRanges.Tools),
        new("Of", Of),
        new("Number", Number),
        new("Is", Meaning),
    ], CheckTogether);

    /// <summary>The entry; null where it is not whole.</summary>
    public static ParameterMap? Read(ConfigNode node, int index) =>
        ReadSingle(node, index) ?? ReadTools(node, index) ?? ReadRegisters(node, index);

    private static ParameterMap? ReadSingle(ConfigNode node, int index) =>
        Number.TryRead(node["Number"], out var single) && Meaning.TryRead(node["Is"], out var meaning)
            ? new ParameterMap { Index = index, First = single, Is = meaning }
            : null;

    private static ParameterMap? ReadTools(ConfigNode node, int index)
    {
        if (!Number.TryRead(node["First"], out var first) || !Of.TryRead(node["Of"], out var of)) return null;
        if (!NumberRanges.Tools.TryRead(node["Tools"], out var tools)) return null;
        return new ParameterMap
        {
            Index = index,
            First = first,
            Step = Number.Read(node["Step"], 1),
            Tools = tools,
            Of = of,
        };
    }

    private static ParameterMap? ReadRegisters(ConfigNode node, int index)
    {
        if (!Number.TryRead(node["First"], out var first)) return null;
        if (!Values.Axes.TryRead(node["Axes"], out var axes)) return null;
        if (!NumberRanges.Registers.TryRead(node["Registers"], out var registers)) return null;
        return new ParameterMap
        {
            Index = index,
            First = first,
            Step = Number.Read(node["Step"], axes.Count),
            Registers = registers,
            Axes = axes,
        };
    }

    // Three forms: registers by axes, tools by one part, and a single number with a meaning.
    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        if (node["Number"] is not null || node["Is"] is not null)
        {
            Need(node, check, "Number", "Is");
            Only(node, check, "an entry with Number has only Is beside it", "Number", "Is");
        }
        else if (node["Tools"] is not null || node["Of"] is not null)
        {
            Need(node, check, "First", "Tools", "Of");
            Only(node, check, "an entry for Tools has no registers", "First", "Step", "Tools", "Of");
        }
        else
        {
            Need(node, check, "First", "Registers", "Axes");
            CheckStep(node, check);
        }
    }

    private static void CheckStep(ConfigNode node, ConfigCheck check)
    {
        if (!Number.TryRead(node["Step"], out var step) || !Values.Axes.TryRead(node["Axes"], out var axes)) return;
        if (step < axes.Count && node["Step"] is { } at)
            check.Add(at, $"{step} is less than the {axes.Count} axes of a register; use {axes.Count} or more");
    }

    private static void Need(ConfigNode node, ConfigCheck check, params string[] names)
    {
        foreach (var key in Shape.Keys)
            if (names.Contains(key.Name) && node[key.Name] is null) check.Missing(node, key.Name, key.Shape.Allowed);
    }

    private static void Only(ConfigNode node, ConfigCheck check, string why, params string[] names)
    {
        foreach (var member in node.Members)
            if (!names.Contains(member.Name) && Shape.Keys.Any(key => key.Name == member.Name))
                check.Add(member.Value.Path, member.Place, $"does not belong here: {why}");
    }
}
