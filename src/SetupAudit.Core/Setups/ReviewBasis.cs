namespace SetupAudit.Setups;

/// <summary>
/// What of a setup a review rests on: evidence that comes later makes another mark, and a finding of weight that was
/// not there is not covered.
/// </summary>
/// <param name="Mark">SHA-256, in hexadecimal, of what the evidence says of the setup.</param>
/// <param name="Grave">
/// Findings of severity high and stop that stood against it, without the setup's id: axis-not-set/G54.Z.
/// </param>
public sealed record ReviewBasis(string Mark, IReadOnlyList<string> Grave);
