using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A Z raised and put back exactly before production is a lift, a note; left in it is high; lowered beyond where it
/// started it is a stop (contract section 4a).
/// </summary>
internal sealed class Lifted : IRule
{
    public string Name => "lift";

    public Severity Default => Severity.Stop;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        setupCase.Setup.Lifts.Where(lift => !IsOfMassLoss(setupCase.Setup, lift))
            .OrderBy(lift => lift.RaisedUtc).ThenBy(lift => lift.Key)
            .Select(lift => Found(setupCase, lift)).OfType<Finding>();

    private Finding? Found(SetupCase setupCase, Lift lift)
    {
        if (lift is { PutTo: { } putTo, PutUtc: { } putUtc })
        {
            if (putTo < lift.Start) return Lowered(setupCase, lift, putTo, putUtc);
            if (putTo == lift.Start && !(putUtc > setupCase.Setup.ClosedUtc)) return PutBack(setupCase, lift, putUtc);
        }
        return LeftIn(setupCase, lift);
    }

    private Finding PutBack(SetupCase setupCase, Lift lift, DateTimeOffset putUtc) =>
        Raised(setupCase, lift, Severity.Note,
            $"{What(setupCase, lift)}, and put back exactly by {setupCase.Told(putUtc, lift.RaisedUtc)}: a "
            + "dry run above the part.", putUtc, lift.Start);

    private Finding Lowered(SetupCase setupCase, Lift lift, decimal putTo, DateTimeOffset putUtc)
    {
        var unit = setupCase.Machine.Units;
        return Raised(setupCase, lift, Severity.Stop,
            $"{What(setupCase, lift)}, and put down to {Words.With(putTo, unit)} by "
            + $"{setupCase.Told(putUtc, lift.RaisedUtc)}: that is {Words.With(lift.Start - putTo, unit)} "
            + $"below the {Words.With(lift.Start, unit)} it started from, and tools would go as much too deep.",
            putUtc, putTo);
    }

    /// <summary>
    /// Still raised: a note while the dry run may be going on, high once the setup went quiet or production ran.
    /// </summary>
    private Finding? LeftIn(SetupCase setupCase, Lift lift)
    {
        var setup = setupCase.Setup;
        if (setup.ClosedUtc is null && setup.Judged == Judgement.NotYet) return null;
        var mayBeDryRun = setup.ClosedUtc is null && setup.Judged == Judgement.CuttingStarted;
        var stands = lift.PutTo ?? lift.Raised;
        var unit = setupCase.Machine.Units;
        var high = $"{Words.With(stands - lift.Start, unit)} above the {Words.With(lift.Start, unit)} it started from";
        if (mayBeDryRun)
            return Raised(setupCase, lift, Severity.Note,
                $"{What(setupCase, lift)}, and a cycle has started under it: it stands {high}, as for a dry run, and "
                + "wants putting back before cutting.", lift.RaisedUtc, stands);
        var atUtc = setup.ClosedUtc ?? setup.JudgedUtc ?? lift.RaisedUtc;
        var when = setupCase.Told(atUtc);
        var how = setup.Judged == Judgement.CuttingStarted
            ? $"production started at {when} with it"
            : $"it was so at {when}";
        return Raised(setupCase, lift, Severity.High,
            $"{What(setupCase, lift)} and not put back: {how}, {high}.", atUtc, stands);
    }

    private Finding Raised(
        SetupCase setupCase, Lift lift, Severity severity, string message, DateTimeOffset atUtc, decimal value) =>
        setupCase.Raise(this, severity, lift.Key, message, atUtc, [lift.RaisedSource, lift.PutSource]) with
        {
            Value = value,
            Expected = lift.Start,
        };

    // A Z that fell to zero with all others was not raised.
    private static bool IsOfMassLoss(Setup setup, Lift lift) =>
        setup.MassLosses.Any(loss => loss.AtUtc == lift.RaisedUtc && loss.What == "registers");

    private static string What(SetupCase setupCase, Lift lift) =>
        $"{Words.Begin(Words.Name(lift.Key))} was raised by "
        + $"{Words.With(lift.Raised - lift.Start, setupCase.Machine.Units)} by {setupCase.Told(lift.RaisedUtc)}";
}
