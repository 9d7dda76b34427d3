using SetupAudit.Accuracy.Scores;
using SetupAudit.Findings;

namespace SetupAudit.Accuracy.Trials;

/// <summary>What was said of a planted mistake that was found.</summary>
/// <param name="Group">The row of the table it counts in.</param>
internal sealed record Answer(string Group, string Truth, IReadOnlyList<Cause> Causes)
{
    /// <summary>Which two mistakes nearly predict the same; null where that was not planned.</summary>
    public string? Pair { get; init; }

    public bool IsRight => Causes[0].Name == Truth;

    public double First => (double)Causes[0].Probability;

    public double LogLoss =>
        Scoring.LogLoss((double)(Causes.FirstOrDefault(cause => cause.Name == Truth)?.Probability ?? 0m));

    /// <summary>The causes of an offset; null where no jump was found on it.</summary>
    public static Answer? Of(string group, string truth, IReadOnlyList<Finding> findings, Datums.OffsetKey key)
    {
        var found = findings.FirstOrDefault(finding => finding.Rule is "implausible-jump" or "tool-jump" && (key.IsTool
            ? finding.Tool == key.Tool && finding.Of == key.Part
            : finding.Register == key.Register && finding.Axis == key.Axis));
        return found is { Causes.Count: > 0 } ? new Answer(group, truth, found.Causes) : null;
    }
}
