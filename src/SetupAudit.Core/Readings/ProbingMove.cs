using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>A probing move (G38.2) or a probing call that the machine's configuration names.</summary>
public sealed record ProbingMove
{
    public required int Line { get; init; }

    /// <summary>In a scope: the called program in whose file the line stands; null for the program itself.</summary>
    public string? Program { get; init; }

    /// <summary>In a scope: where the line stands, which for a called program may be another file.</summary>
    public SourceLine? Source { get; init; }

    /// <summary>"straight" for G38.2, else the configured kind.</summary>
    public required string Kind { get; init; }

    /// <summary>How far the move searches, in the machine's unit; null where the program does not give it.</summary>
    public decimal? Search { get; init; }

    /// <summary>
    /// How far above the programmed surface the move starts; null where the program does not give it.
    /// </summary>
    public decimal? Standoff { get; init; }

    /// <summary>
    /// The register the call sets or the move is made in; null for the one in force when the program was called.
    /// </summary>
    public Register? Register { get; init; }

    /// <summary>
    /// The call names its register by a number that the program does not give: which one is not known.
    /// </summary>
    public bool RegisterUnknown { get; init; }

    /// <summary>The axes the call sets; empty for a plain move.</summary>
    public IReadOnlyList<Axis> Sets { get; init; } = [];

    /// <summary>Whether the call sets that value, in the register it names or the one in force.</summary>
    public bool SetsIn(OffsetKey key) => !RegisterUnknown && MaySet(key);

    /// <summary>Whether it may set that value: where the register is not known, any one.</summary>
    public bool MaySet(OffsetKey key) =>
        key.IsDatum && Sets.Contains(key.Axis) && (Register is null || Register == key.Register);
}
