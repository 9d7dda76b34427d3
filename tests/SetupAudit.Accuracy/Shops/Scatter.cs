namespace SetupAudit.Accuracy.Shops;

/// <summary>How values scatter about the usual one.</summary>
internal enum Scatter
{
    Normal,
    Even,
    LongTails,
}
