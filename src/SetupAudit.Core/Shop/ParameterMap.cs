using SetupAudit.Datums;

namespace SetupAudit.Shop;

/// <summary>Which numbered parameters of a control hold what, beside the table that RS274/NGC publishes.</summary>
public sealed record ParameterMap
{
    /// <summary>Place in the configuration's list, from 0.</summary>
    public int Index { get; init; }

    public required int First { get; init; }

    /// <summary>Distance from one register or tool to the next.</summary>
    public int Step { get; init; } = 1;

    /// <summary>Registers in the order of the numbers; empty for tools.</summary>
    public IReadOnlyList<Register> Registers { get; init; } = [];

    /// <summary>Axes of each register, one number each, in order.</summary>
    public IReadOnlyList<Axis> Axes { get; init; } = [];

    /// <summary>Tools in the order of the numbers; empty for registers.</summary>
    public IReadOnlyList<int> Tools { get; init; } = [];

    public ToolPart? Of { get; init; }

    /// <summary>For a single number: what it is, such as "measured size".</summary>
    public string? Is { get; init; }
}
