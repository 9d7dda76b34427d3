namespace SetupAudit.Readings;

/// <summary>What kind of line stands in a parameter dump.</summary>
internal enum ParameterLineKind
{
    Blank,

    /// <summary>A comment, or a word of the program that frames the dump.</summary>
    Comment,

    Percent,

    /// <summary>A number and its value.</summary>
    Value,

    /// <summary>Text that does not begin as a parameter: a header, where it stands before the data.</summary>
    Other,

    /// <summary>Begins as a parameter and does not go on as one.</summary>
    Wrong,
}
