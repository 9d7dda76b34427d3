namespace SetupAudit.Architecture;

/// <summary>
/// Which room may use which, and which packages belong to a room alone. A new folder gets a row here first;
/// docs/architecture.md shows the table and says why it is so.
/// </summary>
public static class RoomTable
{
    public const string Root = "SetupAudit";

    private static readonly string[] ToShop = ["Units", "Datums", "Evidence", "Shop"];
    private static readonly string[] ToChanges = [.. ToShop, "Readings", "Changes"];
    private static readonly string[] ToSetups = [.. ToChanges, "Setups"];
    private static readonly string[] CoreData = [.. ToSetups, "Findings"];
    private static readonly string[] AllCore = [.. CoreData, "Tracing", "Records"];
    private static readonly string[] Fold = ["Folding", "Derivation"];

    public static IReadOnlyList<Room> Rooms { get; } =
    [
        Row("Units", []),
        Row("Datums", ["Units"]),
        Row("Evidence", []),
        Row("Records", ["Evidence"]),
        Row("Shop", ["Units", "Datums"]),
        Row("Readings", ToShop),
        Row("Changes", [.. ToShop, "Readings"]),
        Row("Setups", ToChanges),
        Row("Findings", ToSetups, "MathNet"),
        Row("Tracing", ToSetups, "MathNet"),
        Row("Folding", [.. CoreData, "Tracing", "Derivation"]),
        Row("Derivation", [.. CoreData, "Tracing", "Folding"]),
        Row("Shapes", CoreData),
        Row("Demo", ["Units", "Datums", "Shop"]),
        Row("Metering", [], "OpenTelemetry"),
        Row("Shares", ["Evidence", "Shop", "Metering"], "Renci"),
        Row("Store", [.. AllCore, .. Fold], "Dapper", "Microsoft.Data.Sqlite", "SQLitePCL", "Npgsql", "ZstdSharp",
            "NSec", "System.Security.Cryptography.Pkcs"),
        Row("People", [.. CoreData, "Records", "Shapes", "Store"], "NSec"),
        Row("Alerts", [.. CoreData, "Shapes", "Store", "Reports"], "MailKit", "MimeKit"),
        Row("Reports", [.. AllCore, "Shapes"], "PdfSharp", "ScottPlot"),
        Row("Auditing", [.. AllCore, .. Fold, "Shapes", "Metering", "Shares", "Store", "People", "Alerts"]),
        Row("Web", [.. AllCore, "Shapes", "Metering", "Store", "Reports"], "Microsoft.AspNetCore"),
        Row("Commands",
            [
                .. AllCore, .. Fold, "Shapes", "Demo", "Metering", "Shares", "Store", "People", "Alerts", "Reports",
                "Auditing", "Web",
            ],
            "Spectre.Console", "System.CommandLine", "FluentValidation", "Microsoft.AspNetCore"),
    ];

    private static Room Row(string name, string[] mayUse, params string[] packages) => new(name, mayUse, packages);
}
