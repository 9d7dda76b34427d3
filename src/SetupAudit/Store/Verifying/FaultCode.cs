namespace SetupAudit.Store.Verifying;

/// <summary>The words that say what kind of fault was found. docs/records.md says what each means.</summary>
internal static class FaultCode
{
    public const string NoStore = "no-store";
    public const string NotReadable = "not-readable";
    public const string Damaged = "database-damaged";
    public const string Empty = "empty";
    public const string NoCheckpoint = "unsigned";
    public const string UnknownKey = "unknown-key";
    public const string OtherKey = "other-key";
    public const string BadSignature = "bad-signature";
    public const string KeyChange = "key-change";
    public const string EntryMissing = "entry-missing";
    public const string EntryAltered = "entry-altered";
    public const string EntryUnreadable = "entry-unreadable";
    public const string EntryMisplaced = "entry-misplaced";
    public const string TreeAltered = "tree-altered";
    public const string NotCovered = "not-signed";
    public const string RowsAltered = "rows-altered";
    public const string RowsUnsealed = "rows-unsealed";
    public const string SchemaAltered = "database-rebuilt";
    public const string TableUnknown = "table-unknown";
    public const string AnchorMissing = "anchor-missing";
    public const string AnchorUnreadable = "anchor-unreadable";
    public const string AnchorDiffers = "anchor-differs";
    public const string AnchorAhead = "smaller-than-anchor";
    public const string NotAnchored = "not-anchored";
    public const string StampUnreadable = "stamp-unreadable";
    public const string StampFails = "stamp-fails";
    public const string EvidenceAltered = "evidence-altered";
    public const string BundleUnreadable = "bundle-unreadable";
    public const string BundleIncomplete = "bundle-incomplete";
    public const string BundleDiffers = "bundle-differs";
    public const string ProofFails = "proof-fails";
}
