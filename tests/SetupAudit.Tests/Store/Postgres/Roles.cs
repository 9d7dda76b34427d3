using System.Diagnostics;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

/// <summary>The roles that deploy/postgres-roles.sql makes, once a server, and a database of theirs.</summary>
internal static class Roles
{
    private static readonly SemaphoreSlim Once = new(1, 1);
    private static bool _isMade;

    /// <summary>An empty database of the owner's, and the text that connects with it as the service.</summary>
    public static async Task<string> ServiceAsync()
    {
        await Once.WaitAsync(Token);
        try
        {
            if (!_isMade) Script();
            _isMade = true;
        }
        finally
        {
            Once.Release();
        }
        // The script's own database is one; a test has another of the same kind.
        var text = PostgresServer.Shared.NewDatabase("OWNER setupaudit_owner TEMPLATE setupaudit");
        return text.Replace("Username=test", "Username=setupaudit", StringComparison.Ordinal);
    }

    /// <summary>Has the owner run what <c>tables</c> prints.</summary>
    public static async Task BuildAsync(PostgresStore store) => PostgresServer.Run(
        store.Text.Replace("Username=setupaudit", "Username=test", StringComparison.Ordinal),
        "SET ROLE setupaudit_owner; " + await PostgresTables.ScriptAsync(store.Place, Monday, Token));

    private static void Script()
    {
        using var psql = Process.Start(new ProcessStartInfo(Path.Combine(PostgresServer.Programs, "psql"),
        [
            "-h", "127.0.0.1", "-p", $"{PostgresServer.Shared.Port}", "-U", "test", "-d", "postgres", "-q", "-v",
            "ON_ERROR_STOP=1", "-f", Repository.At("deploy/postgres-roles.sql"),
        ])
        {
            RedirectStandardError = true,
        });
        var said = psql?.StandardError.ReadToEnd();
        psql?.WaitForExit();
        Assert.True(psql?.ExitCode == 0, said);
    }
}
