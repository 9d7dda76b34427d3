namespace SetupAudit.Store.Records;

/// <summary>A table whose rows the record covers by their digest.</summary>
/// <param name="Name">Name in the database.</param>
/// <param name="NewestSql">The key of the newest row, or null.</param>
/// <param name="RowsSql">
/// The rows after one key and up to another, in the order of keys, every column but a first one that groups them.
/// </param>
internal sealed record SealedTable(string Name, string NewestSql, string RowsSql)
{
    /// <summary>The first column says which setup a row belongs to; each has a digest of its own.</summary>
    public bool BySetup { get; init; }

    /// <summary>Rows are named one by one, since their keys are no numbers: the first column is the key.</summary>
    public bool ByKey { get; init; }
}
