namespace SetupAudit.Shop;

/// <summary>How a watched file is read, as the configuration's <c>Read</c> says.</summary>
public enum SourceKind
{
    DataSetting,
    Parameters,
    Table,
    PrintOut,
    Program,
    Mtconnect,
    Sheet,
}
