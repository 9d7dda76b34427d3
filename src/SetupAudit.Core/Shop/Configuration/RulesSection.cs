namespace SetupAudit.Shop.Configuration;

/// <summary>The key Rules: the severity of a rule, or off.</summary>
internal static class RulesSection
{
    public static TypedShape<Severity?> SeverityOrOff { get; } = Values.Words<Severity?>(
        ("note", Severity.Note), ("low", Severity.Low), ("high", Severity.High), ("stop", Severity.Stop),
        ("off", null));

    public static MapShape Shape { get; } =
        new("an object such as { \"same-in-two\": \"note\" }", SeverityOrOff, RuleNames.All);

    public static IReadOnlyDictionary<string, Severity?> Read(ConfigNode? node)
    {
        var rules = new Dictionary<string, Severity?>(StringComparer.Ordinal);
        foreach (var member in node?.Members ?? [])
            if (RuleNames.All.Contains(member.Name) && SeverityOrOff.TryRead(member.Value, out var severity))
                rules[member.Name] = severity;
        return rules;
    }
}
