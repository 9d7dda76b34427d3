namespace SetupAudit.Readings;

/// <summary>How a program's write names its register or tool.</summary>
public enum ProgramWriteTarget
{
    /// <summary>The block names it.</summary>
    Named,

    /// <summary>
    /// The register in force when the program was called; only its axis is known until the calls are followed.
    /// </summary>
    InForce,

    /// <summary>
    /// It hangs on a number that the program does not give: only the axis, or the part of the tool, is known.
    /// </summary>
    Unknown,
}
