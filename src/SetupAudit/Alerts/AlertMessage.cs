using System.Text.Json.Serialization;
using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>
/// What one message says, whichever way it goes. It is the same at each try, its id above all, so that a receiver knows
/// one that comes twice.
/// </summary>
public sealed record AlertMessage
{
    public required string Id { get; init; }

    /// <summary>What belongs together at the receiver's: the setup, or else the machine.</summary>
    public required string Thread { get; init; }

    public required AlertKind Kind { get; init; }

    /// <summary>The highest of its findings.</summary>
    public required Severity Severity { get; init; }

    /// <summary>When it was put up to be sent; one that goes out much later says its age.</summary>
    public required DateTimeOffset QueuedUtc { get; init; }

    public required string Machine { get; init; }

    /// <summary>Null where its findings belong to no setup, or to several.</summary>
    public string? Setup { get; init; }

    /// <summary>The share on which its silent sources lie; null where it is of something else.</summary>
    public string? Share { get; init; }

    public IReadOnlyList<AlertFinding> Findings { get; init; } = [];

    /// <summary>How many more findings there are than are listed.</summary>
    public int Remainder { get; init; }

    /// <summary>How many of the remainder were sent before and no longer hold.</summary>
    public int RemainderCleared { get; init; }

    /// <summary>How many of all its findings no longer hold.</summary>
    [JsonIgnore]
    public int Cleared => Findings.Count(finding => finding.Cleared) + RemainderCleared;

    /// <summary>How many of all its findings hold.</summary>
    [JsonIgnore]
    public int Holding => Findings.Count + Remainder - Cleared;

    /// <summary>What ran since, in a sentence; null where nothing is known of it.</summary>
    public string? RanSince { get; init; }

    /// <summary>Address of the setup's report, or else of the page; null where there is none.</summary>
    public string? ReportLink { get; init; }

    /// <summary>The shop's name.</summary>
    public required string Shop { get; init; }

    /// <summary>The shop's zone, by its IANA name: times are written on its clock.</summary>
    public required string TimeZone { get; init; }
}
