namespace SetupAudit.Units;

/// <summary>
/// The unit a control's number is in. A rotary axis or a rotation is in degrees whatever the machine's unit.
/// </summary>
public enum Unit
{
    Millimetre,
    Inch,
    Degree,
}
