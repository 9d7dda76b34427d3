using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>A stretch of a program under one register and one tool, or one call of another program.</summary>
public sealed record ProgramStep
{
    /// <summary>First line of the stretch.</summary>
    public required int Line { get; init; }

    /// <summary>
    /// The register selected before the stretch; null for the one in force when the program was called, or, behind a
    /// call, for the one that the called program left in force.
    /// </summary>
    public Register? Register { get; init; }

    /// <summary>
    /// A register was selected by a number that the program does not give: which one is not known.
    /// </summary>
    public bool RegisterUnknown { get; init; }

    /// <summary>
    /// The tool in the spindle (M6, not staged); null for the one in force when the program was called.
    /// </summary>
    public int? Tool { get; init; }

    /// <summary>A tool was changed to by a number that the program does not give: which one is not known.</summary>
    public bool ToolUnknown { get; init; }

    /// <summary>
    /// Whether a feed move or drilling cycle ran with a cutting tool (moves under the probe do not cut).
    /// </summary>
    public bool Cuts { get; init; }

    /// <summary>
    /// Moves ran before the program named a motion, as in a called pattern of hole positions: they cut where the
    /// motion in force at the call cuts. For a call: a feed move or drilling cycle is in force while it runs.
    /// </summary>
    public bool CutsIfCalledCutting { get; init; }

    /// <summary>
    /// The axes that moves of the stretch name, rapids included, moves in machine coordinates (G53, G28, G30) not.
    /// </summary>
    public IReadOnlyList<Axis> Axes { get; init; } = [];

    /// <summary>Lowest programmed Z of the stretch, in the machine's unit; null where none is known.</summary>
    public decimal? LowestZ { get; init; }

    /// <summary>For a call: the normalised name of the called program; null for a stretch of moves.</summary>
    public string? Calls { get; init; }

    /// <summary>
    /// For a call such as P51234, which is five times O1234 on most controls and once O51234 on the others: the whole
    /// number as a name, which holds where a program of that name is known.
    /// </summary>
    public string? CallsInFull { get; init; }

    /// <summary>Length offsets called in the stretch (H), as numbers.</summary>
    public IReadOnlyList<int> LengthOffsets { get; init; } = [];

    /// <summary>Diameter offsets called in the stretch (D), as numbers.</summary>
    public IReadOnlyList<int> DiameterOffsets { get; init; } = [];
}
