using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Scraps;

/// <summary>An offset that is wrong by an amount, in the machine's unit, and so spoils parts.</summary>
internal sealed record Scrap(ScrapKind Kind, OffsetKey Key, double By);
