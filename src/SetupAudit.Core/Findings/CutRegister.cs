using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>A register that a program of the setup cuts in, or may cut in.</summary>
internal sealed record CutRegister(ProgramUse Use, RegisterScope Scope)
{
    public Register Register => Scope.Register;

    /// <summary>False where a called program that may cut in it has not been read.</summary>
    public bool IsCertain => Scope.Cuts == true;
}
