namespace SetupAudit.Readings;

/// <summary>How a value in a dump is meant.</summary>
public enum ReadingHow
{
    /// <summary>The register holds this value.</summary>
    Stands,

    /// <summary>The value is added to what the register held (G91, or U and W on a lathe).</summary>
    Adds,

    /// <summary>The block stands after a block delete: told, never applied.</summary>
    Conditional,

    /// <summary>
    /// G10 L20 "position": the present position is made to read the value; what the register becomes is not known.
    /// </summary>
    Unresolved,
}
