namespace SetupAudit.Shop;

/// <summary>Which changes a limit holds for.</summary>
public enum LimitApplies
{
    Always,

    /// <summary>Only what is changed after production started.</summary>
    Running,

    /// <summary>Only what is changed before production started.</summary>
    Setup,
}
