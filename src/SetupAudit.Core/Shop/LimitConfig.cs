using SetupAudit.Units;

namespace SetupAudit.Shop;

/// <summary>
/// A limit on how far an offset may move, or on where it may stand. The first that matches a machine and offset wins.
/// </summary>
public sealed record LimitConfig
{
    /// <summary>Place in the configuration's list, from 0.</summary>
    public int Index { get; init; }

    /// <summary>Glob over machine names.</summary>
    public string Machine { get; init; } = "*";

    /// <summary>Glob over register names; null for a limit on tools.</summary>
    public string? Register { get; init; }

    /// <summary>Glob over axis names.</summary>
    public string Axis { get; init; } = "*";

    /// <summary>Glob over tool numbers; null for a limit on registers.</summary>
    public string? Tool { get; init; }

    /// <summary>Part of the tool as contract section 2 names it; glob.</summary>
    public string Of { get; init; } = "*";

    /// <summary>
    /// Largest change allowed; strictly beyond it is a finding. Null for a limit on the value alone.
    /// </summary>
    public decimal? Change { get; init; }

    /// <summary>The way of change that is limited; null for both.</summary>
    public LimitDirection? Direction { get; init; }

    /// <summary>Where the value may stand; strictly outside it is a finding. Null: anywhere.</summary>
    public Bounds? Between { get; init; }

    /// <summary>Unit of <see cref="Change"/> and <see cref="Between"/>; null for the machine's own.</summary>
    public Unit? Unit { get; init; }

    /// <summary>Sum of changes within this time; null for each change alone.</summary>
    public TimeSpan? Within { get; init; }

    /// <summary>Which changes are held against it.</summary>
    public LimitApplies Applies { get; init; }
}
