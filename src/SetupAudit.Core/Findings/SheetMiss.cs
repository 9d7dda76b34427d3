using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>Something measured that is not as the sheet wants it.</summary>
/// <param name="What">Ends the finding's id.</param>
/// <param name="Value">As measured; null where it was not.</param>
internal sealed record SheetMiss(
    string What, string Message, DateTimeOffset AtUtc, decimal? Value, Bounds? Range, Unit Unit,
    IReadOnlyList<SourceLine> Evidence);
