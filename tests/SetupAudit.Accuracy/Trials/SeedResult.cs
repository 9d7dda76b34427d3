using SetupAudit.Accuracy.Scraps;

namespace SetupAudit.Accuracy.Trials;

/// <summary>What one made-up shop gave.</summary>
internal sealed record SeedResult
{
    public List<Verdict> Verdicts { get; } = [];

    /// <summary>Parts that were spoiled, and what a trace said of them.</summary>
    public List<ScrapVerdict> Scraps { get; } = [];

    /// <summary>The shop of loose plates; null where none was tried.</summary>
    public SeedResult? Plates { get; set; }

    /// <summary>Close calls, by how close.</summary>
    public IReadOnlyList<Answer> Close { get; set; } = [];

    /// <summary>Later mistakes of a shop with a common one, without and with what reviews teach.</summary>
    public (IReadOnlyList<Answer> Before, IReadOnlyList<Answer> After) Taught { get; set; } = ([], []);

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

    public IEnumerable<string> Alarms => FalseAlarms.Concat(EarlyAlarms).Concat(Doubted);
}
