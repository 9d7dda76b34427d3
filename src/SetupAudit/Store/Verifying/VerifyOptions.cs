using SetupAudit.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>What is verified, and how far.</summary>
public sealed record VerifyOptions
{
    /// <summary>The folder of the store.</summary>
    public required string Folder { get; init; }

    /// <summary>How the database is reached that the rows are in; null where they are in the folder.</summary>
    public string? Postgres { get; init; }

    /// <summary>Where checkpoints are copied to, off this computer; null for nowhere.</summary>
    public string? OffBoxFolder { get; init; }

    /// <summary>
    /// The certificates in PEM that an authority's must lead to; null where nobody says which are trusted.
    /// </summary>
    public string? AuthorityFile { get; init; }

    /// <summary>The key that the record must be signed with; null takes the one it names itself.</summary>
    public VerifierKey? Pinned { get; init; }

    /// <summary>Whether every file of evidence is hashed again.</summary>
    public bool WithEvidence { get; init; } = true;

    /// <summary>Told how many entries, then how many files of evidence, were checked.</summary>
    public IProgress<(string What, long Done)>? Progress { get; init; }
}
