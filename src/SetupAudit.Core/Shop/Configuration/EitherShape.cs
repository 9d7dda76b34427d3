namespace SetupAudit.Shop.Configuration;

/// <summary>A plain value, or an object in its place.</summary>
internal sealed class EitherShape(string allowed, ValueShape value, ObjectShape structure) : ConfigShape(allowed)
{
    public ObjectShape Structure { get; } = structure;

    public override void Check(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind == ConfigKind.Object) Structure.Check(node, check);
        else if (!value.Accepts(node)) NotAllowed(node, check);
    }
}
