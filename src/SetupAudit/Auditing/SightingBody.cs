using SetupAudit.Evidence;
using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>
/// What is kept beside a place in a time line that is no dump: a print-out line, or what could not be read.
/// </summary>
internal sealed record SightingBody
{
    public PrintLine? Print { get; init; }

    public IReadOnlyList<Fault>? Faults { get; init; }
}
