namespace SetupAudit.Tracing;

/// <summary>One or two suspects that together may explain the error along one direction.</summary>
internal sealed record Hypothesis(IReadOnlyList<(Suspect Suspect, double Predicted)> Parts, double Log)
{
    public double Predicted => Parts.Sum(part => part.Predicted);
}
