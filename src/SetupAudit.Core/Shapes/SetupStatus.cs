namespace SetupAudit.Shapes;

/// <summary>Where a setup stands. The last two are a person's verdict.</summary>
public enum SetupStatus
{
    /// <summary>It goes on: neither cut a part to its end nor quiet for long enough.</summary>
    Open,

    /// <summary>Closed, and no finding of severity high or stop stands against it.</summary>
    Settled,

    /// <summary>
    /// Judged, and a finding of severity high or stop stands against it; or reviewed, and the review no longer covers
    /// all that is known.
    /// </summary>
    Queried,

    /// <summary>Reviewed and accepted: the setup, not the parts.</summary>
    Accepted,

    /// <summary>Reviewed and rejected: the setup, not the parts.</summary>
    Rejected,
}
