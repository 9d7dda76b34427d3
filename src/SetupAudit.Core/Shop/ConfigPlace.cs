namespace SetupAudit.Shop;

/// <summary>Where a value of the configuration stands; line and column count from 1.</summary>
public readonly record struct ConfigPlace(int Line, int Column);
