
namespace SetupAudit.Shop;

/// <summary>How one kind of print-out is read: patterns in the order they are tried.</summary>
public sealed record PrintOutConfig
{
    public required string Name { get; init; }

    /// <summary>.NET format of group <c>time</c>; null where lines carry no time.</summary>
    public string? Time { get; init; }

    public required IReadOnlyList<PrintPattern> Lines { get; init; }
}
