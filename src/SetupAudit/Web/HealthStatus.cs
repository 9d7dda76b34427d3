namespace SetupAudit.Web;

/// <summary>Whether the service does its work.</summary>
public enum HealthStatus
{
    /// <summary>Every source was read at its last turn.</summary>
    Working,

    /// <summary>It works, but a source cannot be read now: what happens there is not known.</summary>
    Degraded,

    /// <summary>Nothing is taken in: the record cannot be written.</summary>
    Failing,
}
