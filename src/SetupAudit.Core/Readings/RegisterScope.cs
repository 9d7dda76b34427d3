using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>What a program, its called programs included, does in one register.</summary>
public sealed record RegisterScope
{
    public required Register Register { get; init; }

    /// <summary>Null where a called program that may cut in it has not been read.</summary>
    public bool? Cuts { get; init; }

    /// <summary>Axes that its moves in the register name.</summary>
    public IReadOnlyList<Axis> Axes { get; init; } = [];

    public decimal? LowestZ { get; init; }

    /// <summary>Line of the top program where the register is first used.</summary>
    public required int Line { get; init; }
}
