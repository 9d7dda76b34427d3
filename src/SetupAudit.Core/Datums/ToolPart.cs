namespace SetupAudit.Datums;

/// <summary>What of a tool an offset holds; the last seven are a lathe's.</summary>
public enum ToolPart
{
    Length,
    LengthWear,
    Diameter,
    DiameterWear,
    X,
    XWear,
    Z,
    ZWear,
    NoseRadius,
    NoseRadiusWear,
    Tip,
}
