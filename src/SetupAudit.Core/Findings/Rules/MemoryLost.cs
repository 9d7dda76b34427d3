using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>Most registers or tools vanished or fell to zero together; a mass return to old values is high.</summary>
internal sealed class MemoryLost : IRule
{
    public string Name => "memory-lost";

    public Severity Default => Severity.Stop;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from loss in setupCase.Setup.MassLosses
        let severity = loss.Returned ? Severity.High : Severity.Stop
        select setupCase.Raise(this, severity, loss.What, Message(setupCase, loss), loss.AtUtc, [loss.Source]);

    private static string Message(SetupCase setupCase, MassLoss loss)
    {
        var at = setupCase.Told(loss.AtUtc);
        var many = $"{Words.Number(loss.Count)} of the {Words.Number(loss.Of)} {loss.What} that";
        return loss.Returned
            ? $"{many} had lost their values came back to old ones together at {at}: check the reference position and "
                + "every datum before cutting."
            : $"{many} held values fell to zero or vanished together at {at}: check the reference position and every "
                + "datum before cutting.";
    }
}
