namespace SetupAudit.Store.Outbox;

/// <summary>What happened to a finding, as alerts see it.</summary>
public enum AlertStep
{
    /// <summary>It was raised, or raised again.</summary>
    Raised,

    /// <summary>It held already, and its severity rose to one that is sent.</summary>
    Risen,

    Withdrawn,
}
