using SetupAudit.Evidence;
using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>
/// What is kept beside a place in a time line that is no dump: a print-out line, what an agent says of a moment, what
/// could not be read, or what is wrong with a time.
/// </summary>
internal sealed record SightingBody
{
    public PrintLine? Print { get; init; }

    public StreamMoment? Stream { get; init; }

    public IReadOnlyList<Fault>? Faults { get; init; }

    /// <summary>How far the arrival was read, where its faults alone do not say so.</summary>
    public ArrivalStatus? Status { get; init; }

    /// <summary>What is wrong with the file's time.</summary>
    public string? Clock { get; init; }

    /// <summary>Why the arrival is kept and not used.</summary>
    public string? TooLate { get; init; }
}
