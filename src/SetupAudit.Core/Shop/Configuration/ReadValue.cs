namespace SetupAudit.Shop.Configuration;

/// <summary>
/// Reads a value of one kind from a node; false, with a value that means nothing, where the node holds none.
/// </summary>
internal delegate bool ReadValue<T>(ConfigNode node, out T value);
