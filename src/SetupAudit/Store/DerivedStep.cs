namespace SetupAudit.Store;

/// <summary>What happened to a derived thing.</summary>
public enum DerivedStep
{
    Raised,

    /// <summary>It was withdrawn before, and holds again under the same id.</summary>
    RaisedAgain,

    Changed,
    Withdrawn,
}
