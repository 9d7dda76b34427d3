namespace SetupAudit.Shop.Configuration;

/// <summary>The key Store: where the record is kept.</summary>
internal static class StoreSection
{
    private static readonly string[] PasswordWords = ["password", "pwd", "psw", "passphrase", "sslpassword"];

    public static ObjectShape Shape { get; } = new("an object with Folder",
    [
        new("Folder", Values.Path) { IsRequired = true },
        new("Postgres", Values.TextAs("a connection string without a password")),
        new("Checkpoints", Values.Path),
        new("KeyFile", Values.Path, "`record.key` in `Folder`"),
        new("TimeStamps", TimeStampsSection.Shape),
    ], CheckPostgres);

    public static StoreConfig Read(ConfigNode? node, Folders folders) => new(
        Values.Path.TryRead(node?["Folder"], out var folder) ? folders.Full(folder) : "",
        Values.Text.TextOrNull(node?["Postgres"]))
    {
        Checkpoints = Full(node?["Checkpoints"], folders),
        KeyFile = Full(node?["KeyFile"], folders),
        TimeStamps = TimeStampsSection.Read(node?["TimeStamps"], folders),
    };

    private static string? Full(ConfigNode? node, Folders folders) =>
        Values.Path.TryRead(node, out var path) ? folders.Full(path) : null;

    // The connection string has a place for a password; it does not belong into the configuration.
    private static void CheckPostgres(ConfigNode node, ConfigCheck check)
    {
        if (!Values.Text.TryRead(node["Postgres"], out var connection)) return;
        var words = connection.Split(';').Select(part => part.Split('=')[0].Replace(" ", "", StringComparison.Ordinal));
        if (words.Any(word => PasswordWords.Contains(word, StringComparer.OrdinalIgnoreCase)))
            check.Add(ConfigPath.Member(node.Path, "Postgres"), node["Postgres"]?.Place ?? node.Place,
                "holds a password; take it out and name a file with Passfile=..., or set the variable PGPASSWORD");
    }
}
