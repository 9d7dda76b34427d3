namespace SetupAudit.Alerts;

/// <summary>
/// Which findings of a machine are news while it is derived: those that evidence brought, not those that another
/// configuration, another program or a first look at an archive brings to light about the past.
/// </summary>
public sealed record AlertNews
{
    /// <summary>All are.</summary>
    public static AlertNews All { get; } = new() { AfterUtc = DateTimeOffset.MinValue, Past = "" };

    /// <summary>What holds from a later moment than this is news.</summary>
    public required DateTimeOffset AfterUtc { get; init; }

    /// <summary>SHA-256 of evidence that is new whatever its moment: what rests on it is news.</summary>
    public IReadOnlySet<string> NewEvidence { get; init; } = new HashSet<string>();

    /// <summary>Said of what is not news, to go on from "it is about the past: ".</summary>
    public required string Past { get; init; }
}
