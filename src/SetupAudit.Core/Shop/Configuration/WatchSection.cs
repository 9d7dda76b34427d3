using SetupAudit.Units;

namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a machine's Watch: a folder, and how its files are read.</summary>
internal static class WatchSection
{
    private static readonly TypedShape<SourceKind> Kinds = Values.Words(
        ("data-setting", SourceKind.DataSetting), ("parameters", SourceKind.Parameters), ("table", SourceKind.Table),
        ("print-out", SourceKind.PrintOut), ("program", SourceKind.Program), ("mtconnect", SourceKind.Mtconnect));

    private static readonly TypedShape<string> Lines = Values.TextAs("the name of one of the PrintOuts");

    private static readonly TypedShape<bool> Is = Values.Words(("to-load", true));

    private static readonly TypedShape<TimeFrom> File = Values.Words(("file", TimeFrom.File));

    private static readonly TypedShape<string> Pattern = Values.TextAs("a regular expression with group time");

    private static readonly ObjectShape TimeShape = new("an object with Name or Text, and As",
    [
        new("Name", Pattern),
        new("Text", Pattern),
        new("As", Values.TextAs("a .NET date format, such as yyyyMMdd-HHmmss")) { IsRequired = true },
    ], CheckTime);

    /// <summary>Our names for the columns of a table.</summary>
    public static IReadOnlyList<string> ColumnNames { get; } =
    [
        "Register", "Axis", "Value", "X", "Y", "Z", "A", "B", "C", "U", "V", "W", "R", "Tool", "Of",
        "Length", "LengthWear", "Diameter", "DiameterWear", "XWear", "ZWear", "NoseRadius", "NoseRadiusWear", "Tip",
    ];

    public static ObjectShape Shape { get; } = new("an object with Folder and Read",
    [
        new("Folder", SftpAddress.Folder) { IsRequired = true },
        new("Files", Values.TextAs("a pattern such as *.nc"), "*"),
        new("Read", Kinds) { IsRequired = true },
        new("Columns", new MapShape("an object from our column names to the file's", Values.Text, ColumnNames)),
        new("Lines", Lines),
        new("Device", Values.TextAs("the name or UUID of a device")),
        new("Path", Values.TextAs("the name or id of a path")),
        new("Units", Values.LengthUnit, "mm"),
        new("Alarms", new MapShape("an object from native codes to kinds of alarm", Values.Text)),
        new("Time", new EitherShape("file, or an object with Name or Text, and As", File, TimeShape), "file"),
        new("Lag", Values.Span, "00:00:00"),
        new("Is", Is),
        new("Poll", Values.SpanAbove0, "Shop's"),
        new("Settle", Values.Span, "Shop's"),
        new("Rehash", Values.SpanAbove0, "Shop's"),
        new("HostKey", SftpAddress.HostKey),
        new("KeyFile", Values.Path),
        new("PasswordFile", Values.Path),
    ], CheckTogether)
    {
        Refused = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase)
        {
            ["Password"] = "is a secret and not written here; put it into a file and give its path as PasswordFile",
        },
    };

    private static readonly string[] OfStreams = ["Device", "Path", "Units", "Alarms"];

    private static readonly string[] OfServers = ["HostKey", "KeyFile", "PasswordFile"];

    /// <summary>The entry; null where its Folder or Read is missing or faulty.</summary>
    public static WatchConfig? Read(ConfigNode node, int index, Folders folders, WatchTiming usual)
    {
        if (!SftpAddress.Folder.TryRead(node["Folder"], out var folder)) return null;
        if (!Kinds.TryRead(node["Read"], out var read)) return null;
        var timing = WatchTiming.Read(node, usual);
        var time = node["Time"];
        return new WatchConfig
        {
            Index = index,
            Folder = Folders.AsWritten(folder),
            FullFolder = SftpAddress.IsMeant(folder) ? Folders.AsWritten(folder) : folders.Full(folder),
            Sftp = ReadSftp(node, folder, folders),
            Files = Values.Text.Read(node["Files"], "*"),
            Read = read,
            Columns = ReadColumns(node["Columns"]),
            Lines = Values.Text.TextOrNull(node["Lines"]),
            Stream = read == SourceKind.Mtconnect ? ReadStream(node) : null,
            Poll = timing.Poll,
            Settle = timing.Settle,
            Rehash = timing.Rehash,
            Lag = Values.Span.Read(node["Lag"], TimeSpan.Zero),
            IsToLoad = Is.Read(node["Is"], false),
            Time = time?["Name"] is not null ? TimeFrom.Name
                : time?["Text"] is not null ? TimeFrom.Text
                : TimeFrom.File,
            TimePattern = Values.Text.TextOrNull(time?["Name"] ?? time?["Text"]),
            TimeFormat = Values.Text.TextOrNull(time?["As"]),
        };
    }

    private static StreamConfig ReadStream(ConfigNode node) => new()
    {
        Device = Values.Text.TextOrNull(node["Device"]),
        Path = Values.Text.TextOrNull(node["Path"]),
        Units = Values.LengthUnit.Read(node["Units"], Unit.Millimetre),
        Alarms = (node["Alarms"]?.Members ?? []).Where(member => Values.Text.TryRead(member.Value, out _))
            .ToDictionary(member => member.Name, member => member.Value.Text, StringComparer.Ordinal),
    };

    private static SftpConfig? ReadSftp(ConfigNode node, string folder, Folders folders) =>
        SftpAddress.Parse(folder) is { } at
            ? new SftpConfig(at.Host, at.Port, at.User, at.Path, SftpAddress.HostKey.Read(node["HostKey"], ""))
            {
                FullFolder = Folders.AsWritten(folder),
                KeyFile = folders.OrNull(node["KeyFile"]),
                PasswordFile = folders.OrNull(node["PasswordFile"]),
            }
            : null;

    private static Dictionary<string, string> ReadColumns(ConfigNode? node)
    {
        var columns = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (var member in node?.Members ?? [])
            if (Values.Text.TryRead(member.Value, out var heading)) columns[member.Name] = heading;
        return columns;
    }

    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        CheckServer(node, check);
        if (!Kinds.TryRead(node["Read"], out var read)) return;
        if (read == SourceKind.PrintOut && node["Lines"] is null)
            check.Missing(node, "Lines", Lines.Allowed);
        if (read != SourceKind.PrintOut && node.MemberOf("Lines") is { } lines)
            check.Add(lines.Value.Path, lines.Place, "is only for \"Read\": \"print-out\"");
        if (read is not (SourceKind.Table or SourceKind.Mtconnect) && node.MemberOf("Columns") is { } columns)
            check.Add(columns.Value.Path, columns.Place, "is only for \"Read\": \"table\" or \"mtconnect\"");
        if (read == SourceKind.Mtconnect) return;
        foreach (var key in OfStreams)
            if (node.MemberOf(key) is { } given)
                check.Add(given.Value.Path, given.Place, "is only for \"Read\": \"mtconnect\"");
    }

    // Who answers is proved before anything is sent, and who asks in exactly one way.
    private static void CheckServer(ConfigNode node, ConfigCheck check)
    {
        if (!Values.Text.TryRead(node["Folder"], out var folder)) return;
        if (!SftpAddress.IsMeant(folder))
        {
            foreach (var key in OfServers)
                if (node.MemberOf(key) is { } given)
                    check.Add(given.Value.Path, given.Place, "is only for a Folder such as sftp://user@host:22/folder");
            return;
        }
        if (node["HostKey"] is null) check.Missing(node, "HostKey", SftpAddress.HostKey.Allowed);
        if (node["KeyFile"] is null && node["PasswordFile"] is null)
            check.Missing(node, "KeyFile", "a path, or PasswordFile");
        if (node["KeyFile"] is not null && node.MemberOf("PasswordFile") is { } both)
            check.Add(both.Value.Path, both.Place, "stands beside KeyFile; one of them proves who asks");
    }

    private static void CheckTime(ConfigNode node, ConfigCheck check)
    {
        if (node["Name"] is null && node["Text"] is null) check.Missing(node, "Name", "Name or Text");
        if (node["Name"] is not null && node.MemberOf("Text") is { } text)
            check.Add(text.Value.Path, text.Place,
                "stands beside Name; a time is taken from the name or from the text");
    }
}
