namespace SetupAudit.Readings;

/// <summary>The motion in force (RS274/NGC modal group 1), as far as it matters to what is cut.</summary>
internal enum ProgramMotion
{
    /// <summary>None was named yet: the one in force when the program was called.</summary>
    AsCalled,

    Rapid,

    /// <summary>G1, G2, G3, and the threading and turning moves of a lathe.</summary>
    Feed,

    /// <summary>A drilling cycle, G73 to G89.</summary>
    Cycle,

    /// <summary>A probing move, G38.2.</summary>
    Probe,
}
