using System.Data.Common;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Compares what the database is built of with what this program builds: a view put in the place of a table, or a guard
/// that was taken away, shows even where every row is as it was.
/// </summary>
internal static class SchemaCheck
{
    public static void Run(DbConnection connection, StoreDatabase database, FaultList faults)
    {
        var own = Parts(connection, database.Dialect);
        var expected = database.ExpectedParts(Migrations(connection));
        foreach (var (name, text) in expected)
            if (!own.TryGetValue(name, out var there))
                faults.Add(FaultCode.SchemaAltered, $"the database lacks the {name} that the program builds");
            else if (there != text)
                faults.Add(FaultCode.SchemaAltered,
                    $"the {name} of the database is not built as the program builds it");
        foreach (var name in own.Keys.Where(name => !expected.ContainsKey(name)))
            faults.Add(FaultCode.SchemaAltered, $"the database has a {name} that the program does not build");
    }

    /// <summary>What a database is built of: kind and name, and the statement.</summary>
    public static Dictionary<string, string> Parts(DbConnection connection, Dialect dialect)
    {
        var parts = new Dictionary<string, string>(StringComparer.Ordinal);
        using var rows = connection.Read(dialect.PartsSql);
        // Line ends may differ between the programs that built them; the statements do not.
        while (rows.Read())
            parts[$"{rows.GetString(0)} {rows.GetString(1)}"] = rows.GetString(2).ReplaceLineEndings("\n");
        return parts;
    }

    private const string MigrationsSql = "SELECT sha256 FROM migration ORDER BY number";

    // A store of an earlier version has fewer of them; rows that were added or altered show by what they would build.
    private static HashSet<string> Migrations(DbConnection connection)
    {
        var known = new HashSet<string>(StringComparer.Ordinal);
        using var rows = connection.Read(MigrationsSql);
        while (rows.Read()) known.Add(rows.GetString(0));
        return known;
    }
}
