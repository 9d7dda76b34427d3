using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Shops;

/// <summary>A tool in the rack of a made-up machine, in the machine's unit.</summary>
/// <param name="Length">On a lathe its Z.</param>
/// <param name="Diameter">On a lathe its X.</param>
/// <param name="EverySetup">It is measured in every setup that calls it, not only when it is replaced.</param>
/// <param name="Spread">How much its length differs from one such measuring to the next.</param>
/// <param name="DiameterSpread">The same of its diameter.</param>
internal sealed record RackTool(
    int Number, bool IsTurning, double Length, double Diameter, bool EverySetup, double Spread, double DiameterSpread)
{
    public OffsetKey LengthKey => OffsetKey.OfTool(Number, IsTurning ? ToolPart.Z : ToolPart.Length);

    public OffsetKey LengthWearKey => OffsetKey.OfTool(Number, IsTurning ? ToolPart.ZWear : ToolPart.LengthWear);

    public OffsetKey DiameterWearKey => OffsetKey.OfTool(Number, IsTurning ? ToolPart.XWear : ToolPart.DiameterWear);

    public OffsetKey DiameterKey => OffsetKey.OfTool(Number, IsTurning ? ToolPart.X : ToolPart.Diameter);
}
