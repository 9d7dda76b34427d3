using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>A stretch of a program under one register and one tool, or one call of another program.</summary>
public sealed record ProgramStep
{
    /// <summary>First line of the stretch.</summary>
    public required int Line { get; init; }

    /// <summary>
    /// The register selected before the stretch; null for the one in force when the program was called.
    /// </summary>
    public Register? Register { get; init; }

    /// <summary>
    /// The tool in the spindle (M6, not staged); null for the one in force when the program was called.
    /// </summary>
    public int? Tool { get; init; }

    /// <summary>
    /// Whether a feed move or drilling cycle ran with a cutting tool (moves under the probe do not cut).
    /// </summary>
    public bool Cuts { get; init; }

    /// <summary>
    /// The axes that moves of the stretch name, rapids included, moves in machine coordinates (G53, G28, G30) not.
    /// </summary>
    public IReadOnlyList<Axis> Axes { get; init; } = [];

    /// <summary>Lowest programmed Z of the stretch, in the machine's unit; null where none is known.</summary>
    public decimal? LowestZ { get; init; }

    /// <summary>For a call: the normalised name of the called program; null for a stretch of moves.</summary>
    public string? Calls { get; init; }

    /// <summary>Length offsets called in the stretch (H), as numbers.</summary>
    public IReadOnlyList<int> LengthOffsets { get; init; } = [];

    /// <summary>Diameter offsets called in the stretch (D), as numbers.</summary>
    public IReadOnlyList<int> DiameterOffsets { get; init; } = [];
}
