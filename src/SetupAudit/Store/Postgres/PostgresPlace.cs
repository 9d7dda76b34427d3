using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>The connection text of the configuration.</summary>
public static class PostgresPlace
{
    private const int AliveSeconds = 30;
    private const int PatienceSeconds = 300;

    /// <summary>What is wrong with it, in words that follow the key; null where nothing.</summary>
    public static string? FaultOf(string text) => Read(text, out var fault) is null ? fault : null;

    internal static NpgsqlConnectionStringBuilder? Read(string text, out string? fault)
    {
        NpgsqlConnectionStringBuilder read;
        try
        {
            read = new NpgsqlConnectionStringBuilder(text);
        }
        catch (Exception wrong) when (wrong is ArgumentException or FormatException or KeyNotFoundException)
        {
            // What was written is not repeated: it may hold a password.
            fault = "is not written as a connection text is, such as Host=...;Database=...;Username=...";
            return null;
        }
        fault = Fault(read);
        if (fault is not null) return null;
        // Nothing of a text that was once connected with is shown again, also not what the server asked for.
        read.PersistSecurityInfo = false;
        read.TcpKeepAlive = true;
        if (read.TcpKeepAliveTime == 0) read.TcpKeepAliveTime = AliveSeconds;
        if (!read.ContainsKey("Command Timeout")) read.CommandTimeout = PatienceSeconds;
        if (!read.ContainsKey("Max Auto Prepare")) read.MaxAutoPrepare = 200;
        return read;
    }

    private static string? Fault(NpgsqlConnectionStringBuilder read)
    {
        if (string.IsNullOrWhiteSpace(read.Host)) return "names no server; give Host=...";
        if (read.Host.Contains(',', StringComparison.Ordinal))
            return "names several servers; give the one that takes writes";
        if (string.IsNullOrWhiteSpace(read.Database)) return "names no database; give Database=...";
        if (read.Passfile is { } file && !Path.IsPathFullyQualified(file))
            return "has a Passfile that is no full path";
        return null;
    }
}
