using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Findings;

/// <summary>An offset was set in a setup.</summary>
/// <param name="FromUtc">Not before this; null where the moment itself is known, or nothing was known before.</param>
/// <param name="AtUtc">Not after this; the moment itself where a print-out tells it.</param>
/// <param name="How">In words: print-out, dump, program.</param>
internal sealed record SetMark(
    OffsetKey Key, DateTimeOffset? FromUtc, DateTimeOffset AtUtc, string How, SourceLine Source)
{
    /// <summary>A change that only a later dump shows may still have been made in time.</summary>
    public bool MayBeBy(DateTimeOffset momentUtc) => AtUtc <= momentUtc || FromUtc < momentUtc;
}
