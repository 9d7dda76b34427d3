namespace SetupAudit.Folding;

/// <summary>One life of an agent, as far as it was read.</summary>
/// <param name="Next">The first observation not read yet; null while no document told.</param>
/// <param name="BySnapshot">What was read last shows how all stood, not what happened.</param>
public sealed record StreamInstance(ulong Instance, ulong? Next, bool BySnapshot);
