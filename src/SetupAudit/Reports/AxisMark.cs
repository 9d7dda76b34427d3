namespace SetupAudit.Reports;

/// <summary>
/// How an axis of a register, or a part of a tool, comes out of a setup: what a reader must see at a glance.
/// </summary>
public enum AxisMark
{
    /// <summary>Changed or touched in this setup.</summary>
    Set,

    /// <summary>Set only after cutting had begun.</summary>
    SetLate,

    /// <summary>A rule says that it should have been set and was not.</summary>
    NotSet,

    /// <summary>The setup still goes on, the register was begun, and this axis is needed.</summary>
    NotYet,

    /// <summary>It holds what it held before.</summary>
    Carried,

    /// <summary>No source has shown a value.</summary>
    Unknown,
}
