namespace SetupAudit.Shop;

/// <summary>Something the configuration asks for that this version does not do yet.</summary>
/// <param name="Where">Where it asks, and the sentence that says so.</param>
/// <param name="Stops">The service cannot run without it; else it runs with that part left out.</param>
public sealed record ConfigNotYet(ConfigFault Where, bool Stops);
