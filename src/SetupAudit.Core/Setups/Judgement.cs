namespace SetupAudit.Setups;

/// <summary>What made a setup ripe to be judged.</summary>
public enum Judgement
{
    /// <summary>It is still going on: rules that rest on absence say nothing yet.</summary>
    NotYet,
    CuttingStarted,
    WentQuiet,

    /// <summary>A person asks whether it is ready (command <c>ready</c>).</summary>
    Asked,
}
