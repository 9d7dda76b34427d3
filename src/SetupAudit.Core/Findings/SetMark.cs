using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Findings;

/// <summary>An offset was set in a setup.</summary>
/// <param name="FromUtc">Not before this; null where the moment itself is known, or nothing was known before.</param>
/// <param name="AtUtc">Not after this; the moment itself where a print-out tells it.</param>
/// <param name="How">In words: print-out, dump, program.</param>
/// <param name="Certain">By the moment the setup is judged at; else it may have come only after it.</param>
internal sealed record SetMark(
    OffsetKey Key, DateTimeOffset? FromUtc, DateTimeOffset AtUtc, string How, bool Certain, SourceLine Source);
