namespace SetupAudit.Shop;

/// <summary>Alerts as files in a folder, for a program of the shop's own to fetch.</summary>
/// <param name="Folder">As the configuration writes it.</param>
/// <param name="FullFolder">Its full path.</param>
/// <param name="IsText">Text for people to read, not JSON.</param>
public sealed record FileDropConfig(string Folder, string FullFolder, bool IsText);
