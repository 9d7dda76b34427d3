namespace SetupAudit.Store.Tables;

/// <summary>One row as it is appended: what holds, or that it no longer does and why.</summary>
internal sealed record DerivedWord
{
    public required DerivedKey Key { get; init; }

    public required DateTimeOffset ScopeUtc { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public string? Setup { get; init; }

    /// <summary>Null in a withdrawal.</summary>
    public string? Body { get; init; }

    /// <summary>Null unless it is a withdrawal.</summary>
    public string? Withdrawn { get; init; }

    public static DerivedWord Of(string machine, DerivedRow row) => new()
    {
        Key = new DerivedKey(machine, row.Kind, row.Id),
        ScopeUtc = row.ScopeUtc,
        AtUtc = row.AtUtc,
        Setup = row.Setup,
        Body = row.Body,
    };
}
