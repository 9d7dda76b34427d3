using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>
/// Five wrong passwords in a row, and the next is looked at only after a while that doubles with each further one.
/// </summary>
public static class SignInDelay
{
    public const int FreeTries = 5;

    /// <summary>More than this are not needed to know the wait.</summary>
    public const int TriesLookedAt = 20;

    private static readonly TimeSpan First = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Longest = TimeSpan.FromHours(1);

    /// <summary>Until when nothing more is looked at; null where nothing is waited for.</summary>
    /// <param name="tries">A person's latest, the newest first.</param>
    public static DateTimeOffset? Until(IReadOnlyList<StoredSignIn> tries)
    {
        var wrong = tries.TakeWhile(given => given.Outcome == SignInOutcome.Wrong).ToList();
        if (wrong.Count < FreeTries) return null;
        var doubled = First * Math.Pow(2, Math.Min(wrong.Count - FreeTries, TriesLookedAt));
        return wrong[0].AtUtc + (doubled < Longest ? doubled : Longest);
    }
}
