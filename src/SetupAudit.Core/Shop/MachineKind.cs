namespace SetupAudit.Shop;

/// <summary>What kind of machine: decides which axes and tool parts there are.</summary>
public enum MachineKind
{
    Mill,
    Lathe,
}
