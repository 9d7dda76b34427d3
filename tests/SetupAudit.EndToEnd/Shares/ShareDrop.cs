namespace SetupAudit.Shares;

/// <summary>What happens to a share while a control writes to it.</summary>
internal enum ShareDrop
{
    ServerKilled,
    ServerFrozen,
    MountKilled,
    MountFrozen,
    MountEmpty,
    PrintRotated,
    RewrittenWhileRead,
}
