namespace SetupAudit.Shop.Configuration;

/// <summary>A list whose items all have one shape.</summary>
/// <param name="atLeast">How many items it must have.</param>
internal sealed class ListShape(string allowed, ConfigShape item, int atLeast = 0) : ConfigShape(allowed)
{
    public ConfigShape Item { get; } = item;

    public override void Check(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind != ConfigKind.List) NotAllowed(node, check);
        else if (node.Items.Count < atLeast && node.IsWhole) check.Add(node, $"is empty; give {Allowed}");
        foreach (var each in node.Items.TakeWhile(_ => !check.IsFull)) Item.Check(each, check);
    }
}
