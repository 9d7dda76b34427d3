namespace SetupAudit.Tracing;

/// <summary>What an offset should have been, from earlier setups or a setup sheet.</summary>
/// <param name="Spread">How well that is known, as a standard deviation.</param>
/// <param name="Says">What it is, in words: "the usual".</param>
public sealed record ExpectedValue(decimal Value, double Spread, string Says);
