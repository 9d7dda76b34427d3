using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Makes the acts about people: who is added, locked, or gives themselves another password.</summary>
public static class PersonActs
{
    /// <summary>Adds somebody, who alone knows the password.</summary>
    public static Act Add(PersonGiven given, string role, string password)
    {
        var id = Inbox.NewId(given.AtUtc);
        var salt = PersonKey.NewSalt();
        using var key = PersonKey.Derive(password, salt, PersonKey.Passes, PersonKey.MemoryKib);
        return new Act
        {
            Id = id,
            Kind = ActKind.Add,
            Person = new StoredPerson
            {
                Id = id,
                AtUtc = given.AtUtc,
                Person = $"person-{id}",
                Name = PersonName.Normal(given.Name),
                Folded = PersonName.Folded(given.Name),
                Role = role,
                Salt = salt,
                Passes = PersonKey.Passes,
                MemoryKib = PersonKey.MemoryKib,
                CheckKey = key.CheckKey,
                Why = given.Why,
                ByName = given.By,
                Account = given.Account,
            },
        };
    }

    /// <summary>Locks somebody for good; signed where who does it gave a password.</summary>
    public static Act Lock(PersonGiven given, StoredPerson known, SignedIn? by)
    {
        var id = Inbox.NewId(given.AtUtc);
        return Signed(ActKind.Lock, by, known with
        {
            Id = id,
            AtUtc = given.AtUtc,
            Locked = true,
            Why = given.Why,
            ByName = by?.Person?.Name ?? given.By,
            ByPerson = by?.Person?.Person,
            Account = given.Account,
        });
    }

    /// <summary>
    /// Another password, or the same at a higher cost of guessing; signed with the key of the old one.
    /// </summary>
    public static Act Password(PersonGiven given, SignedIn owner, string password)
    {
        var known = owner.Person ?? throw new ArgumentException("nobody signed in", nameof(owner));
        var salt = PersonKey.NewSalt();
        using var key = PersonKey.Derive(password, salt, PersonKey.Passes, PersonKey.MemoryKib);
        return Signed(ActKind.Password, owner, known with
        {
            Id = Inbox.NewId(given.AtUtc),
            AtUtc = given.AtUtc,
            Salt = salt,
            Passes = PersonKey.Passes,
            MemoryKib = PersonKey.MemoryKib,
            CheckKey = key.CheckKey,
            Why = given.Why,
            ByName = known.Name,
            ByPerson = known.Person,
            Account = given.Account,
        });
    }

    /// <summary>Keeps that a name and a password did not fit.</summary>
    public static Act Failed(StoredSignIn given) => new() { Id = given.Id, Kind = ActKind.SignIn, SignIn = given };

    private static Act Signed(ActKind kind, SignedIn? by, StoredPerson row) => new()
    {
        Id = row.Id,
        Kind = kind,
        Person = row,
        SignIn = by?.Given,
        Signature = by?.Key is { } key ? Convert.ToBase64String(key.Sign(SignedText.Of(kind, row))) : null,
    };
}
