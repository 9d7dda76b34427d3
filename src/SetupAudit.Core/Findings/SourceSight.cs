namespace SetupAudit.Findings;

/// <summary>What the sightings of a source say of the source itself.</summary>
public sealed record SourceSight
{
    public SourceBeat? Beat { get; init; }

    /// <summary>The times that it prints and its share's clock disagree.</summary>
    public ClockSkew? Print { get; init; }

    /// <summary>Its share's clock disagrees with this program's, or went backwards.</summary>
    public ClockSkew? File { get; init; }
}
