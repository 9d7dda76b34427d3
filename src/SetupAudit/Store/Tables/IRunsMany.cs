namespace SetupAudit.Store.Tables;

/// <summary>
/// A connection that runs a statement for many rows in one go, where each go is a way to another computer.
/// </summary>
internal interface IRunsMany
{
    /// <summary>How many rows were written in all.</summary>
    Task<int> RunManyAsync(string sql, IReadOnlyCollection<object> rows, CancellationToken token);
}
