namespace SetupAudit.Store;

/// <summary>A name and a password that were given.</summary>
/// <param name="Person">
/// Null where the name is nobody's; the name itself is not kept, for people type passwords into it.
/// </param>
/// <param name="Outcome">right, wrong or locked.</param>
/// <param name="Purpose">What it was given for: review, password.</param>
/// <param name="Account">The account of the operating system that gave it.</param>
public sealed record StoredSignIn(
    string Id, DateTimeOffset AtUtc, string? Person, string Outcome, string Purpose, string Account);
