namespace SetupAudit.Shop;

/// <summary>The length a setup sheet wants of a tool; null where it gives only the tool.</summary>
public sealed record SheetTool(int Tool, Bounds? Length);
