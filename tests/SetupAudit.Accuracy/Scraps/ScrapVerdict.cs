using SetupAudit.Datums;
using SetupAudit.Tracing;

namespace SetupAudit.Accuracy.Scraps;

/// <summary>What a trace said of a part whose error has a known reason.</summary>
internal sealed record ScrapVerdict
{
    public required int Seed { get; init; }

    public required string Machine { get; init; }

    public required string Unit { get; init; }

    public required string Program { get; init; }

    public required ScrapKind Kind { get; init; }

    public required OffsetKey Key { get; init; }

    /// <summary>The error that was measured, with its uncertainty.</summary>
    public required decimal Error { get; init; }

    public required decimal Uncertainty { get; init; }

    public required Trace Trace { get; init; }

    /// <summary>The starts of the cycles that ran under the wrong value.</summary>
    public required IReadOnlyList<DateTimeOffset> Spoiled { get; init; }

    /// <summary>The wrong offset is named first; where none was wrong, none is named.</summary>
    public bool RightFirst => Kind == ScrapKind.Unseen
        ? Trace.Unexplained
        : !Trace.Unexplained && Trace.Changes is [var first, ..] && first.Key == Key;

    /// <summary>Cycles that ran under the wrong value and are not named.</summary>
    public int Missed => Spoiled.Count(start => Trace.Cycles.All(named => named.Cycle.StartUtc != start));

    /// <summary>Cycles that are named as certain and ran under the right value.</summary>
    public int Accused => Trace.Cycles.Count(named => named.Certain && !Spoiled.Contains(named.Cycle.StartUtc));

    /// <summary>The probability of what is named first, whether a change or something unseen.</summary>
    public double Probability => Trace.Unexplained || Trace.Changes.Count == 0
        ? (double)Trace.UnexplainedProbability
        : (double)Trace.Changes[0].Probability;
}
