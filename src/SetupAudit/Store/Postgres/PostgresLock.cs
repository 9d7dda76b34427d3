using System.Collections.Concurrent;
using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>
/// The right to write a database, beside the one to write a folder: two computers with a folder each must not write the
/// same rows. The server takes it back when the session ends, however it ends.
/// </summary>
internal static class PostgresLock
{
    /// <summary>The first half of the lock's name in the server.</summary>
    internal const int Key = 0x53_45_54_55;

    private const int LongestName = 63;

    // Of this process: what holds the lock under its name is a session of its own that the server has not missed yet.
    private static readonly string Process = "setupaudit-" + RandomNumberGenerator.GetHexString(8, lowercase: true);

    // Sessions that this process has in use: no other one of it may end those.
    private static readonly ConcurrentDictionary<int, bool> InUse = new();

    private const string TakeSql = "SELECT pg_try_advisory_lock(@Key, hashtext(current_schema()::text))";

    private const string HolderSql = """
        SELECT s.pid, s.application_name, COALESCE(host(s.client_addr), 'the same computer') AS computer
        FROM pg_locks l JOIN pg_stat_activity s ON s.pid = l.pid
        WHERE l.locktype = 'advisory' AND l.granted AND l.classid::bigint = @Key AND l.objsubid = 2
            AND l.objid::bigint = (hashtext(current_schema()::text)::bigint & 4294967295)
            AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database())
        """;

    private const string EndSql = "SELECT pg_terminate_backend(@Pid, 5000)";

    // A process that was killed a moment ago is missed at once, unless the server was just working for it.
    private const string WaitSql = "SET lock_timeout = '5s'";

    private const string WaitForSql = "SELECT pg_advisory_lock(@Key, hashtext(current_schema()::text))";

    private const string DoneSql = "SET lock_timeout = 0";

    /// <summary>How the server names the sessions of this process.</summary>
    public static string SessionName(string? given)
    {
        var room = LongestName - Process.Length - 1;
        return string.IsNullOrWhiteSpace(given) ? Process : $"{given[..Math.Min(given.Length, room)]} {Process}";
    }

    /// <summary>Takes the lock, or throws with a sentence that says who holds it.</summary>
    public static async Task TakeAsync(PostgresConnection writer, string name, CancellationToken token)
    {
        await HoldAsync(writer, name, token);
        var session = writer.Inner.ProcessID;
        InUse[session] = true;
        writer.OnClosed = () => InUse.TryRemove(session, out _);
    }

    private static async Task HoldAsync(DbConnection writer, string name, CancellationToken token)
    {
        if (await TryAsync(writer, token)) return;
        var holder = await writer.QueryFirstOrDefaultAsync<Holder>(new CommandDefinition(
            HolderSql, new { Key }, cancellationToken: token));
        if (holder?.Application_Name?.EndsWith(Process, StringComparison.Ordinal) == true
            && !InUse.ContainsKey(holder.Pid))
        {
            await writer.ExecuteScalarAsync<bool>(new CommandDefinition(
                EndSql, new { holder.Pid }, cancellationToken: token));
            if (await TryAsync(writer, token)) return;
        }
        try
        {
            await writer.ExecuteAsync(new CommandDefinition(WaitSql, cancellationToken: token));
            await writer.ExecuteAsync(new CommandDefinition(WaitForSql, new { Key }, cancellationToken: token));
            await writer.ExecuteAsync(new CommandDefinition(DoneSql, cancellationToken: token));
        }
        catch (PostgresException fault) when (fault.SqlState == PostgresErrorCodes.LockNotAvailable)
        {
            throw new StoreException(StoreFaultKind.Final,
                $"Another setupaudit writes {name}{From(holder)}, with a folder of its own. One service writes a store "
                + "at a time: stop that one first, or give this shop a database of its own.", fault)
            {
                IsHeld = true,
            };
        }
    }

    private static Task<bool> TryAsync(DbConnection writer, CancellationToken token) =>
        writer.ExecuteScalarAsync<bool>(new CommandDefinition(TakeSql, new { Key }, cancellationToken: token));

    private static string From(Holder? holder) => holder is null ? "" : $" (from {holder.Computer})";

    private sealed class Holder
    {
        public int Pid { get; init; }

        public string? Application_Name { get; init; }

        public string Computer { get; init; } = "";
    }
}
