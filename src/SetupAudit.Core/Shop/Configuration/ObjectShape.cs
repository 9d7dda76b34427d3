namespace SetupAudit.Shop.Configuration;

/// <summary>An object with a fixed set of keys.</summary>
/// <param name="together">What the keys of one object must be to each other.</param>
internal sealed class ObjectShape(
    string allowed, IReadOnlyList<ConfigKey> keys, Action<ConfigNode, ConfigCheck>? together = null)
    : ConfigShape(allowed)
{
    public IReadOnlyList<ConfigKey> Keys { get; } = keys;

    /// <summary>
    /// Keys that a person may well write but must not, with the sentence that says what to do instead.
    /// </summary>
    public IReadOnlyDictionary<string, string> Refused { get; init; } = new Dictionary<string, string>();

    public override void Check(ConfigNode node, ConfigCheck check)
    {
        CheckEach(node, check);
        CheckTogether(node, check);
    }

    /// <summary>Every key for itself: whether there is such a key, and its value.</summary>
    public void CheckEach(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind != ConfigKind.Object) NotAllowed(node, check);
        foreach (var member in node.Members)
        {
            if (check.IsFull) return;
            var key = Keys.FirstOrDefault(known => string.Equals(known.Name, member.Name, StringComparison.Ordinal));
            if (key is not null) key.Shape.Check(member.Value, check);
            else check.Add(member.Value.Path, member.Place, Refused.TryGetValue(member.Name, out var instead)
                ? instead
                : UnknownKey.Sentence(member.Name, Keys.Select(known => known.Name)));
        }
    }

    /// <summary>
    /// The required keys, and what the keys must be to each other; not where the file broke off within the object.
    /// </summary>
    public void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind != ConfigKind.Object || !node.IsWhole) return;
        foreach (var key in Keys)
            if (key.IsRequired && node[key.Name] is null) check.Missing(node, key.Name, key.Shape.Allowed);
        together?.Invoke(node, check);
    }
}
