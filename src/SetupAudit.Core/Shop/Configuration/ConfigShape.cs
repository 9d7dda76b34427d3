namespace SetupAudit.Shop.Configuration;

/// <summary>
/// What a value may be. The reader checks with shapes, faults name what they allow, and docs/configuration.md is tested
/// against them, so that the three cannot part.
/// </summary>
/// <param name="allowed">In words, as a sentence goes on after "use": "mm or inch".</param>
internal abstract class ConfigShape(string allowed)
{
    public string Allowed { get; } = allowed;

    /// <summary>Adds what is wrong with a value, and with all within it.</summary>
    public abstract void Check(ConfigNode node, ConfigCheck check);

    protected void NotAllowed(ConfigNode node, ConfigCheck check) =>
        check.Add(node, $"{node.Shown} is not allowed; use {Allowed}");
}
