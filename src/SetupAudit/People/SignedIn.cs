using System.Globalization;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>What came of a name and a password.</summary>
public sealed class SignedIn : IDisposable
{
    private SignedIn(string says) => Says = says;

    /// <summary>Null where they do not fit.</summary>
    public StoredPerson? Person { get; private init; }

    /// <summary>The person's key, to sign with; null where they do not fit.</summary>
    public PersonKey? Key { get; private init; }

    /// <summary>What is to be kept of it; null where the password was not looked at.</summary>
    public StoredSignIn? Given { get; private init; }

    /// <summary>Why not, as a sentence; empty where they fit.</summary>
    public string Says { get; }

    public static SignedIn Proved(StoredPerson person, PersonKey key, StoredSignIn given) =>
        new("") { Person = person, Key = key, Given = given };

    public static SignedIn Refused(StoredSignIn given, string says) => new(says) { Given = given };

    public static SignedIn Waits(DateTimeOffset untilUtc) => new(string.Create(CultureInfo.InvariantCulture,
        $"Too many wrong passwords in a row: the next is looked at from {untilUtc:yyyy-MM-ddTHH:mm:ssZ} on."));

    public void Dispose() => Key?.Dispose();
}
