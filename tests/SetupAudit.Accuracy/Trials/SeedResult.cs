using SetupAudit.Accuracy.Scraps;

namespace SetupAudit.Accuracy.Trials;

/// <summary>What one made-up shop gave.</summary>
internal sealed record SeedResult
{
    public List<Verdict> Verdicts { get; } = [];

    /// <summary>Parts that were spoiled, and what a trace said of them.</summary>
    public List<ScrapVerdict> Scraps { get; } = [];

    /// <summary>Clean setups with four or more earlier ones that were judged.</summary>
    public int Clean { get; set; }

    /// <summary>Those of them in which a jump was found, with the words of the finding.</summary>
    public List<string> FalseAlarms { get; } = [];

    /// <summary>Clean setups with fewer earlier ones.</summary>
    public int Early { get; set; }

    /// <summary>Those of them in which a jump was found.</summary>
    public List<string> EarlyAlarms { get; } = [];

    /// <summary>Clean setups that other rules held against something, with their words: faults of the generator.</summary>
    public List<string> Doubted { get; } = [];
}
