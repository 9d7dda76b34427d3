namespace SetupAudit.Units;

/// <summary>What stands where a number was looked for.</summary>
public enum NumberScan
{
    /// <summary>No digit: the text is no number.</summary>
    None,

    Number,

    /// <summary>A number of more digits than any control writes.</summary>
    TooLong,
}
