using System.Text.Json.Serialization;

namespace SetupAudit.Store;

/// <summary>An account as one row says it; of a person the newest row holds.</summary>
public sealed record StoredPerson
{
    /// <summary>Id of this row: what is taken in twice is kept once.</summary>
    public required string Id { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>Never changes and is never given again.</summary>
    public required string Person { get; init; }

    /// <summary>As it is printed.</summary>
    public required string Name { get; init; }

    /// <summary>What makes a name one person's: the same for every way of writing it.</summary>
    public required string Folded { get; init; }

    public required string Role { get; init; }

    public bool Locked { get; init; }

    public required byte[] Salt { get; init; }

    public required int Passes { get; init; }

    public required int MemoryKib { get; init; }

    /// <summary>The public key whose private half the password brings back.</summary>
    public required byte[] CheckKey { get; init; }

    /// <summary>What was done: added, locked, and the reason that was given.</summary>
    public required string Why { get; init; }

    /// <summary>Who is said to have done it; null where nobody is.</summary>
    public string? ByName { get; init; }

    /// <summary>The person who proved it with a password; null where nobody did.</summary>
    public string? ByPerson { get; init; }

    /// <summary>The account of the operating system that did it.</summary>
    public required string Account { get; init; }

    [JsonIgnore]
    public string State => Locked ? "locked" : "active";
}
