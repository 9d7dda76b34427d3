using SetupAudit.Datums;
using SetupAudit.Findings;

namespace SetupAudit.Accuracy.Trials;

/// <summary>What was said of one offset that a planted mistake hit, or of a clean setup.</summary>
internal sealed record Verdict
{
    public required int Seed { get; init; }

    public required string Machine { get; init; }

    public required string Unit { get; init; }

    public required string Program { get; init; }

    public required bool HasSheet { get; init; }

    public required int Earlier { get; init; }

    /// <summary>The planted cause.</summary>
    public required string Cause { get; init; }

    public required OffsetKey Key { get; init; }

    public required decimal Right { get; init; }

    public required decimal Value { get; init; }

    /// <summary>The true spread from setup to setup.</summary>
    public required double Spread { get; init; }

    /// <summary>Beyond 0.05 mm and ten times the usual spread: it must be found.</summary>
    public required bool MustBeFound { get; init; }

    public required IReadOnlyList<Cause> Causes { get; init; }

    /// <summary>Other causes that would have left the same numbers on every offset hit, as near as can be told.</summary>
    public required IReadOnlySet<string> Alike { get; init; }

    /// <summary>How many registers the job has.</summary>
    public int Registers { get; init; }

    /// <summary>Far from its own usual place as well, by ten of its own spreads.</summary>
    public bool IsFarAlone { get; init; }

    /// <summary>A register of the job that was right was named as well.</summary>
    public bool OtherNamed { get; init; }

    public bool Found => Causes.Count > 0;

    public string? First => Causes.Count > 0 ? Causes[0].Name : null;

    public double Probability(string cause) =>
        (double)(Causes.FirstOrDefault(item => item.Name == cause)?.Probability ?? 0m);

    public bool RightFirst => First == Cause;

    public bool FairFirst => RightFirst || (First is { } first && Alike.Contains(first));
}
