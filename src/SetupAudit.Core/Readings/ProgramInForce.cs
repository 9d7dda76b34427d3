using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>What is in force where a program is followed: carried into what it calls, and out of it again.</summary>
/// <param name="Register">Null where it is not known.</param>
/// <param name="Tool">Null where it is not known, or none was changed to yet.</param>
/// <param name="Cuts">A feed move or drilling cycle is in force for moves that name none; null where that is not
/// known.</param>
internal readonly record struct ProgramInForce(Register? Register, int? Tool, bool? Cuts)
{
    /// <summary>The stretch's own register and tool, and where it has none, those in force.</summary>
    public ProgramInForce With(ProgramStep step) => this with
    {
        Register = step.RegisterUnknown ? null : step.Register ?? Register,
        Tool = step.ToolUnknown ? null : step.Tool ?? Tool,
    };
}
