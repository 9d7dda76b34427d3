using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Units;

namespace SetupAudit.Auditing;

/// <summary>Findings about setup sheets that could not be read: sheets belong to no machine, so to no fold.</summary>
internal sealed class SheetFindings(ShopConfig shop, AuditStore store)
{
    /// <summary>The name under which sheets are kept.</summary>
    public const string Sheets = "";

    public async Task<IReadOnlyList<DerivedChange>> RecordAsync(string because, CancellationToken token)
    {
        var rows = new Dictionary<string, DerivedRow>(StringComparer.Ordinal);
        await foreach (var stored in store.Reader.SightingsAsync(Sheets, null, token))
            if (Of(stored) is { } row)
                rows[row.Id] = row;
        return await store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = Sheets,
            ScopeFromUtc = DateTimeOffset.MinValue,
            Kinds = new HashSet<DerivedKind> { DerivedKind.Finding },
            Rows = [.. rows.Values],
            WithdrawnBecause = because,
        }, token);
    }

    private DerivedRow? Of(StoredSighting stored)
    {
        if (stored.Body is not { } text || ReadingText.Read<SightingBody>(text).Faults is not { } faults) return null;
        var sighting = new Sighting
        {
            AtUtc = stored.Position.AtUtc,
            EarliestUtc = stored.EarliestUtc,
            Source = stored.Position.Source,
            File = stored.Position.File,
            Sha256 = stored.Position.Sha256,
            Line = stored.Position.Line,
            Arrival = stored.Arrival,
            Faults = faults,
        };
        if (RuleBook.JudgeArrival(shop, Sheets, sighting) is not { } finding) return null;
        return new DerivedRow
        {
            Kind = DerivedKind.Finding,
            Id = finding.Id,
            ScopeUtc = finding.AtUtc,
            AtUtc = finding.AtUtc,
            Body = ShapeBody.Of(FindingView.From(finding, Unit.Millimetre)),
        };
    }
}
