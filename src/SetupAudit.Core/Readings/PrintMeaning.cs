namespace SetupAudit.Readings;

/// <summary>What a line of a print-out means, as the configuration's <c>Means</c> says.</summary>
public enum PrintMeaning
{
    Program,
    CycleStart,
    CycleEnd,
    CycleStop,
    Measured,
    DatumSet,
    ToolSet,
    Alarm,
    PalletChange,
    Setter,
    Note,
}
