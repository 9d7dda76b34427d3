namespace SetupAudit.Shapes;

/// <summary>Where a setup stands. The last two are a person's verdict.</summary>
public enum SetupStatus
{
    /// <summary>It goes on: neither cut a part to its end nor quiet for long enough.</summary>
    Open,

    /// <summary>Closed, and no finding of severity high or stop stands against it.</summary>
    Settled,

    /// <summary>Judged, and a finding of severity high or stop stands against it.</summary>
    Queried,
    Accepted,
    Rejected,
}
