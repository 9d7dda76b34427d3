using System.Globalization;
using SetupAudit.Store.Records;

namespace SetupAudit.Store;

/// <summary>
/// The store is written by one account. What root makes there belongs to root, and the service could not write it any
/// more: refused before anything is made.
/// </summary>
internal static class StoreRights
{
    private const string Accounts = "/etc/passwd";

    /// <summary>Opens a store; throws a sentence where this account may not write it, or should not.</summary>
    public static async Task<T> NeededAsync<T>(string folder, Func<Task<T>> open)
    {
        RequireOwn(folder);
        try
        {
            return await open();
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new StoreException(StoreFaultKind.Final,
                $"{Environment.UserName} may not write the store in {folder}: {fault.Message} Give this account what "
                + "lies there, and run the service and every command that writes as one account.", fault);
        }
    }

    /// <summary>Throws where root would write in a store that belongs to another account.</summary>
    public static void RequireOwn(string folder)
    {
        if (OperatingSystem.IsWindows() || !Posix.IsRoot) return;
        // Where the rows are elsewhere, the checkpoints tell whose the folder is.
        var found = Posix.OwnerOf(Path.Combine(folder, SqliteDatabase.FileName))
            ?? Posix.OwnerOf(Path.Combine(folder, AnchorFile.FileName));
        if (found is not ({ } owner and not 0)) return;
        var account = NameOf(owner);
        throw new StoreException(StoreFaultKind.Final,
            $"The store in {folder} belongs to {account}, and what root makes there the service could not write any "
            + $"more. Run this as {account}: sudo -u {account} setupaudit ...");
    }

    // The number with a # is what sudo takes where the account has no name here.
    private static string NameOf(uint owner)
    {
        var number = owner.ToString(CultureInfo.InvariantCulture);
        try
        {
            return File.ReadLines(Accounts).Select(line => line.Split(':'))
                .FirstOrDefault(fields => fields.Length > 2 && fields[2] == number)?[0] ?? $"#{number}";
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"#{number}";
        }
    }
}
