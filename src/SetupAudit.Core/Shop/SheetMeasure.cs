namespace SetupAudit.Shop;

/// <summary>A size, angle or distance between two features that a setup sheet wants measured.</summary>
public sealed record SheetMeasure
{
    /// <summary>The feature; null where <see cref="Between"/> names two.</summary>
    public string? Feature { get; init; }

    public IReadOnlyList<string> Between { get; init; } = [];

    public Bounds? Size { get; init; }

    /// <summary>In degrees.</summary>
    public Bounds? Angle { get; init; }

    public Bounds? Distance { get; init; }
}
