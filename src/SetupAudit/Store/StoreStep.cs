namespace SetupAudit.Store;

/// <summary>The places in a write at which a process may die; tests stop there.</summary>
internal enum StoreStep
{
    EvidenceWritten,
    EvidenceFlushed,
    RowsWritten,
    Committed,
    KeyMade,
    KeyOverwritten,
    KeyReplaced,
    PruneMoved,
    PruneAnchored,
    PruneGone,
}
