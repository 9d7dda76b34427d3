namespace SetupAudit.Findings;

/// <summary>One ordinary mistake that may explain a finding, with its estimated probability.</summary>
/// <param name="Name">As contract section 6 names causes.</param>
/// <param name="Probability">Rounded to four decimals; over the causes of a finding they sum to 1.</param>
/// <param name="Predicted">The value the cause predicts; null where it predicts none.</param>
/// <param name="Because">What it predicts and by how much it misses, in a sentence.</param>
public sealed record Cause(string Name, decimal Probability, decimal? Predicted, string Because);
