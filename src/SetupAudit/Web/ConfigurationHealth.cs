namespace SetupAudit.Web;

/// <summary>Which configuration is in force, and whether a newer one was refused.</summary>
/// <param name="Sha256">Of the file as it was read.</param>
/// <param name="SinceUtc">When it was taken.</param>
public sealed record ConfigurationHealth(string Sha256, DateTimeOffset SinceUtc)
{
    /// <summary>When the file that lies there now was refused; null where it was not.</summary>
    public DateTimeOffset? RefusedUtc { get; init; }

    /// <summary>Why it was refused, a line a fault.</summary>
    public IReadOnlyList<string> Faults { get; init; } = [];
}
