namespace SetupAudit.Shop.Configuration;

/// <summary>A key of an object with where the key stands, and its value.</summary>
internal sealed record ConfigMember(string Name, ConfigPlace Place, ConfigNode Value);
