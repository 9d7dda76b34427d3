namespace SetupAudit.Readings;

/// <summary>What one observation of an agent tells.</summary>
public enum StreamMeaning
{
    /// <summary>The program in hand.</summary>
    Program,

    /// <summary>The program in hand, sub-programs apart.</summary>
    MainProgram,

    /// <summary>Values of registers or tools.</summary>
    Offsets,

    /// <summary>Registers or tools are unavailable: what they hold is unknown from here on.</summary>
    Unavailable,

    PartCount,

    /// <summary>The way the control is worked in: automatic, by hand, by single blocks.</summary>
    Mode,

    Execution,

    /// <summary>A fault that has become active.</summary>
    Fault,
}
