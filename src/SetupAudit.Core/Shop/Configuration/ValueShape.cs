namespace SetupAudit.Shop.Configuration;

/// <summary>A value that is right or wrong as a whole.</summary>
internal abstract class ValueShape(string allowed) : ConfigShape(allowed)
{
    public abstract bool Accepts(ConfigNode node);

    public sealed override void Check(ConfigNode node, ConfigCheck check)
    {
        if (node.IsWhole && !Accepts(node)) NotAllowed(node, check);
    }
}
