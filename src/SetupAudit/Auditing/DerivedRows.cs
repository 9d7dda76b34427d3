using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>Turns what a fold brings forth into rows of the record.</summary>
internal sealed class DerivedRows(MachineConfig machine)
{
    /// <summary>The kinds that the fold brings forth; programs and arrivals have rows of their own making.</summary>
    public static IReadOnlySet<DerivedKind> FoldKinds { get; } = new HashSet<DerivedKind>
    {
        DerivedKind.Setup, DerivedKind.Change, DerivedKind.Finding, DerivedKind.Measurement, DerivedKind.Cycle,
    };

    private const int HashShown = 8;

    // What holds as of the horizon may begin long before all that is folded now: it is looked at anew each time.
    private static readonly DateTimeOffset Always = DateTimeOffset.MaxValue;

    /// <summary>Every row of these scopes: from one moment on, and before another (null for no end).</summary>
    public IReadOnlyList<DerivedRow> Of(DerivedMachine derived, DateTimeOffset fromUtc, DateTimeOffset? beforeUtc)
    {
        var shared = SharedCycles(derived);
        var rows = derived.Setups.Where(item => InScope(item.Setup.OpenedUtc, fromUtc, beforeUtc))
            .SelectMany(item => OfSetup(item, shared))
            .Concat(derived.Changes.Where(change => InScope(change.ToUtc, fromUtc, beforeUtc))
                .Select(change => Of(change, change.ToUtc, null, adjustment: false)))
            .Concat(derived.Cycles.Where(cycle => InScope(cycle.StartUtc, fromUtc, beforeUtc))
                .Select(cycle => Of(cycle, cycle.StartUtc, null)))
            .Concat(derived.Measurements.Where(one => InScope(one.AtUtc, fromUtc, beforeUtc))
                .Select(one => Of(one, one.AtUtc, null)))
            .Concat(derived.Findings.Where(finding => InScope(finding.AtUtc, fromUtc, beforeUtc))
                .Select(finding => Of(finding, finding.AtUtc)))
            .Concat(derived.Standing.Where(_ => beforeUtc is null).Select(finding => Of(finding, Always)));
        return Distinct(rows);
    }

    /// <summary>A row for every version of every program, its calls followed as of its own time.</summary>
    public IReadOnlyList<DerivedRow> Of(ProgramShelf shelf) => Distinct(shelf.Names
        .SelectMany(shelf.Versions)
        .Select(text => new DerivedRow
        {
            Kind = DerivedKind.Program,
            Id = $"{Stem(text.ModifiedUtc)}/{text.Program}#{text.Sha256[..HashShown]}",
            ScopeUtc = text.ModifiedUtc,
            AtUtc = text.ModifiedUtc,
            Body = ShapeBody.Of(ProgramView.Of(machine.Name, text, shelf.Scope(text.Program, text.ModifiedUtc)
                ?? throw new InvalidOperationException($"{text.Program} is on the shelf and has no scope"))),
        }));

    /// <summary>The row of an arrival: how far it could be read.</summary>
    public static DerivedRow Of(ReadArrival read) => new()
    {
        Kind = DerivedKind.Arrival,
        Id = read.Stored.Arrival.Id,
        ScopeUtc = read.Stored.Arrival.MomentUtc,
        AtUtc = read.Stored.Arrival.MomentUtc,
        Body = ShapeBody.Of(ArrivalView.Of(
            read.Stored.Arrival, read.Status, read.Faults.Count > 0 ? read.Faults[0]
                : read.TooLate is { } reason ? new Fault(0, 0, reason)
                : null)),
    };

    public DerivedRow Of(Finding finding, DateTimeOffset scopeUtc) => new()
    {
        Kind = DerivedKind.Finding,
        Id = finding.Id,
        ScopeUtc = scopeUtc,
        AtUtc = finding.AtUtc,
        Setup = finding.Setup,
        Body = ShapeBody.Of(FindingView.From(finding, machine.Units)),
    };

    private IEnumerable<DerivedRow> OfSetup(DerivedSetup item, HashSet<(string Setup, Cycle Cycle)> shared)
    {
        var setup = item.Setup;
        var scopeUtc = setup.OpenedUtc;
        yield return new DerivedRow
        {
            Kind = DerivedKind.Setup,
            Id = setup.Id,
            ScopeUtc = scopeUtc,
            AtUtc = setup.OpenedUtc,
            Body = ShapeBody.Of(SetupView.Of(machine, setup, item.Programs, item.Findings)),
        };
        foreach (var change in setup.Changes) yield return Of(change, scopeUtc, setup.Id, adjustment: false);
        foreach (var change in setup.Adjustments) yield return Of(change, scopeUtc, setup.Id, adjustment: true);
        foreach (var finding in item.Findings) yield return Of(finding, scopeUtc);
        foreach (var measurement in setup.Measurements) yield return Of(measurement, scopeUtc, setup.Id);
        foreach (var cycle in setup.Cycles)
            if (!shared.Contains((setup.Id, cycle))) yield return Of(cycle, scopeUtc, setup.Id);
    }

    private static DerivedRow Of(Change change, DateTimeOffset scopeUtc, string? setup, bool adjustment) => new()
    {
        Kind = DerivedKind.Change,
        Id = change.Id,
        ScopeUtc = scopeUtc,
        AtUtc = change.ToUtc,
        Setup = setup,
        Body = ShapeBody.Of(ChangeView.Of(change, adjustment)),
    };

    private DerivedRow Of(Cycle cycle, DateTimeOffset scopeUtc, string? setup) => new()
    {
        Kind = DerivedKind.Cycle,
        Id = string.Create(CultureInfo.InvariantCulture,
            $"{Stem(cycle.StartUtc)}/cycle/{cycle.Source.Sha256[..HashShown]}:{cycle.Source.Line}"),
        ScopeUtc = scopeUtc,
        AtUtc = cycle.StartUtc,
        Setup = setup,
        Body = ShapeBody.Of(CycleView.Of(cycle)),
    };

    private DerivedRow Of(Measurement measurement, DateTimeOffset scopeUtc, string? setup) => new()
    {
        Kind = DerivedKind.Measurement,
        Id = string.Create(CultureInfo.InvariantCulture,
            $"{Stem(measurement.AtUtc)}/measured/{measurement.Source.Sha256[..HashShown]}:{measurement.Source.Line}"),
        ScopeUtc = scopeUtc,
        AtUtc = measurement.AtUtc,
        Setup = setup,
        Body = ShapeBody.Of(MeasurementView.Of(measurement, machine.Units)),
    };

    // A cycle in which the next setup opened is in both: the younger one knows how it ended.
    private static HashSet<(string Setup, Cycle Cycle)> SharedCycles(DerivedMachine derived)
    {
        var shared = new HashSet<(string Setup, Cycle Cycle)>();
        var last = new Dictionary<(DateTimeOffset, string, int), (string Setup, Cycle Cycle)>();
        foreach (var setup in derived.Setups.Select(item => item.Setup).OrderBy(setup => setup.OpenedUtc))
            foreach (var cycle in setup.Cycles)
            {
                var place = (cycle.StartUtc, cycle.Source.Sha256, cycle.Source.Line);
                if (last.TryGetValue(place, out var older)) shared.Add(older);
                last[place] = (setup.Id, cycle);
            }
        return shared;
    }

    private string Stem(DateTimeOffset momentUtc) =>
        string.Create(CultureInfo.InvariantCulture, $"{machine.Name}@{momentUtc:yyyyMMdd-HHmmss}");

    private static bool InScope(DateTimeOffset scopeUtc, DateTimeOffset fromUtc, DateTimeOffset? beforeUtc) =>
        scopeUtc >= fromUtc && !(scopeUtc >= beforeUtc);

    // Two things of one name, such as two lines printed within a second: the second is told apart by its number.
    private static List<DerivedRow> Distinct(IEnumerable<DerivedRow> rows)
    {
        var given = new Dictionary<(DerivedKind, string), int>();
        var distinct = new List<DerivedRow>();
        foreach (var row in rows)
        {
            var count = given[(row.Kind, row.Id)] = given.GetValueOrDefault((row.Kind, row.Id)) + 1;
            distinct.Add(count == 1
                ? row
                : row with { Id = string.Create(CultureInfo.InvariantCulture, $"{row.Id}#{count}") });
        }
        return distinct;
    }
}
