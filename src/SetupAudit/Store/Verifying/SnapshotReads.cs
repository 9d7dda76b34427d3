using System.Data.Common;

namespace SetupAudit.Store.Verifying;

/// <summary>Reading rows one after the other, without holding them all.</summary>
internal static class SnapshotReads
{
    /// <summary>The rows of a statement. Its command lives as long as they are read.</summary>
    public static DbDataReader Read(this DbConnection connection, string sql)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteReader();
    }

    public static DbCommand With(this DbCommand command, string name, object value)
    {
        var parameter = command.CreateParameter();
        (parameter.ParameterName, parameter.Value) = (name, value);
        command.Parameters.Add(parameter);
        return command;
    }
}
