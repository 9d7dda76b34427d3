namespace SetupAudit.Accuracy.Scores;

/// <summary>Probabilities in [Low, High): how many, their mean, and the share that came true.</summary>
internal sealed record ReliabilityBin(double Low, double High, int Count, double Given, double Observed);
