namespace SetupAudit.Shop.Configuration;

/// <summary>
/// An object whose keys are the shop's own names, or one of a set of names, and whose values have one shape.
/// </summary>
/// <param name="names">The names there are; null where any name will do.</param>
internal sealed class MapShape(string allowed, ConfigShape item, IReadOnlyList<string>? names = null)
    : ConfigShape(allowed)
{
    public ConfigShape Item { get; } = item;

    public override void Check(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind != ConfigKind.Object) NotAllowed(node, check);
        foreach (var member in node.Members)
        {
            if (check.IsFull) return;
            if (names is not null && !names.Contains(member.Name, StringComparer.Ordinal))
                check.Add(member.Value.Path, member.Place, UnknownKey.Sentence(member.Name, names));
            else
                Item.Check(member.Value, check);
        }
    }
}
