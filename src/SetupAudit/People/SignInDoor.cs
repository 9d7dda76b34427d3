using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Checks a name and a password. Who is not known costs as long as who gives a wrong password.</summary>
public sealed class SignInDoor(StoreReader store, TimeProvider clock)
{
    private static readonly byte[] NobodysSalt = new byte[PersonKey.SaltBytes];

    /// <summary>The person and key where name and password fit; else why not, with what is to be kept of it.</summary>
    public async Task<SignedIn> TryAsync(
        string name, string password, string purpose, string account, CancellationToken token)
    {
        var person = (await PeopleList.ReadAsync(store, token)).Named(name);
        var nowUtc = clock.GetUtcNow();
        if (person is not null && await UntilAsync(person, token) is { } until && until > nowUtc)
            return SignedIn.Waits(until);
        var key = person is null
            ? PersonKey.Derive(password, NobodysSalt, PersonKey.Passes, PersonKey.MemoryKib)
            : PersonKey.Derive(password, person.Salt, person.Passes, person.MemoryKib);
        var fits = person is not null && key.Is(person.CheckKey);
        var outcome = person is null ? SignInOutcome.Unknown
            : !fits ? SignInOutcome.Wrong
            : person.Locked ? SignInOutcome.Locked
            : SignInOutcome.Right;
        var given = new StoredSignIn(Inbox.NewId(nowUtc), nowUtc, person?.Person, outcome, purpose, account);
        if (person is not null && outcome == SignInOutcome.Right) return SignedIn.Proved(person, key, given);
        key.Dispose();
        return SignedIn.Refused(given, outcome == SignInOutcome.Locked
            ? $"{person?.Name} is locked and can sign nothing."
            : "The name or the password is not right.");
    }

    private async Task<DateTimeOffset?> UntilAsync(StoredPerson person, CancellationToken token) =>
        SignInDelay.Until(await store.SignInsAsync(person.Person, SignInDelay.TriesLookedAt, token));
}
