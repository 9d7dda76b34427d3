using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Setups;

/// <summary>A program of a setup, with its text and sheet as they were then and its calls followed.</summary>
public sealed record ProgramUse
{
    public required string Program { get; init; }

    /// <summary>When it first came to hand in the setup.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>Null where no version of it has been read.</summary>
    public ProgramText? Text { get; init; }

    /// <summary>The text was read only from a later version: findings that rest on it say so.</summary>
    public bool TextIsLater { get; init; }

    /// <summary>Null where its text is not known.</summary>
    public ProgramScope? Scope { get; init; }

    public SetupSheet? Sheet { get; init; }

    /// <summary>No print-out named it: its file was written shortly before the setup.</summary>
    public bool ByLookback { get; init; }
}
