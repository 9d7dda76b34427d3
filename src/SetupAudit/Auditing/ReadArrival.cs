using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>What one arrival says, as the present configuration reads it.</summary>
internal sealed record ReadArrival
{
    public required StoredArrival Stored { get; init; }

    public required ArrivalStatus Status { get; init; }

    /// <summary>
    /// Some entry of the present configuration watches it; else it stays in the record and says nothing.
    /// </summary>
    public bool IsWatched { get; init; } = true;

    /// <summary>What could not be read, in the order of the file.</summary>
    public IReadOnlyList<Fault> Faults { get; init; } = [];

    /// <summary>Why it is kept and not used, or not all of it; null where it is used.</summary>
    public string? TooLate { get; init; }

    public IReadOnlyList<StoredSighting> Sightings { get; init; } = [];

    /// <summary>What a document of an agent says, by the places of its sightings; empty for anything else.</summary>
    public IReadOnlyDictionary<SightingPosition, StreamMoment> Moments { get; init; } =
        new Dictionary<SightingPosition, StreamMoment>();

    public ProgramText? Program { get; init; }

    public SetupSheet? Sheet { get; init; }

    public WaitingDump? Waiting { get; init; }

    public bool IsLookedUp => Program is not null || Sheet is not null || Waiting is not null;
}
