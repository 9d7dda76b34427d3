namespace SetupAudit.Store.Bundles;

/// <summary>A file as the list of a bundle names it.</summary>
public sealed record BundleFile(string Name, long Bytes, string Sha256);
