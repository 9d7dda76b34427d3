using SetupAudit.Evidence;
using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>
/// What is kept beside a place in a time line that is no dump: a print-out line, what could not be read, or
/// what is wrong with a time.
/// </summary>
internal sealed record SightingBody
{
    public PrintLine? Print { get; init; }

    public IReadOnlyList<Fault>? Faults { get; init; }

    /// <summary>What is wrong with the file's time.</summary>
    public string? Clock { get; init; }
}
