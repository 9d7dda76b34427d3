using Microsoft.Data.Sqlite;

namespace SetupAudit.Store.Verifying;

/// <summary>Reading rows one after the other, without holding them all.</summary>
internal static class SnapshotReads
{
    /// <summary>The rows of a statement. Its command lives as long as they are read.</summary>
    public static SqliteDataReader Read(this SqliteConnection connection, string sql)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteReader();
    }
}
