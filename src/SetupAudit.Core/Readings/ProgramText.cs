using SetupAudit.Evidence;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>What one version of a program says: read once, in bounded memory, whatever its size.</summary>
public sealed record ProgramText
{
    /// <summary>
    /// Normalised name: the O number with leading zeros dropped ("O2041"), else the file's name without its ending.
    /// </summary>
    public required string Program { get; init; }

    /// <summary>The first comment of the program; null where there is none.</summary>
    public string? Title { get; init; }

    /// <summary>G20 or G21 in the program; null where neither stands in it.</summary>
    public Unit? Units { get; init; }

    public required string Sha256 { get; init; }

    /// <summary>
    /// SHA-256 of the text without comments, blanks and line numbers: equal where only comments differ.
    /// </summary>
    public required string WithoutCommentsSha256 { get; init; }

    public required string File { get; init; }

    public required DateTimeOffset ModifiedUtc { get; init; }

    public required int Lines { get; init; }

    public IReadOnlyList<ProgramStep> Steps { get; init; } = [];

    public IReadOnlyList<ProgramWrite> Writes { get; init; } = [];

    public IReadOnlyList<ProbingMove> Probing { get; init; } = [];

    /// <summary>Faults of the whole file; a sub-program lists only those between its own first and last line.</summary>
    public IReadOnlyList<Fault> Faults { get; init; } = [];

    /// <summary>
    /// The programs that follow the first in the same file, in its order: programs of their own, which it may call.
    /// </summary>
    public IReadOnlyList<ProgramText> Subprograms { get; init; } = [];

    /// <summary>
    /// The machine's spindle probe when the text was read: moves under it do not cut. Null where it has none.
    /// </summary>
    public int? ProbeTool { get; init; }
}
