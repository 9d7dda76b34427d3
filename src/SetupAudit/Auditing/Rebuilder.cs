using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Derives everything again from the evidence, beside the record and without touching it, and says what differs. It
/// rests on the arrivals that were read and the horizon that is recorded, and may run while a service writes; what
/// comes meanwhile then shows as a difference.
/// </summary>
public sealed class Rebuilder(AuditOptions options, TimeProvider time)
{
    /// <summary>How many differences are told one by one.</summary>
    public const int DifferencesMost = 1_000;

    private const int AtOnce = 256;
    private const string Because = "derived again";

    private static readonly IReadOnlyList<DerivedKind> Kinds =
        [.. DerivedRows.FoldKinds, DerivedKind.Program, DerivedKind.Arrival];

    private readonly List<RebuildDifference> _differences = [];
    private readonly Dictionary<string, DateTimeOffset> _floors = new(StringComparer.Ordinal);
    private readonly HashSet<string> _dropped = new(StringComparer.Ordinal);
    private long _waiting;
    private long _compared;
    private long _standing;
    private long _differ;

    public async Task<RebuildReport> RunAsync(CancellationToken token)
    {
        using var record = await StoreReader.OpenAsync(options.Shop.Store, token);
        var folder = Directory.CreateTempSubdirectory("setupaudit-rebuild-").FullName;
        try
        {
            await using var again = await AuditStore.OpenScratchAsync(folder, time, token);
            await DeriveAsync(record, again, token);
            foreach (var machine in options.Shop.Machines.Select(machine => machine.Name).Prepend(SheetFindings.Sheets))
                foreach (var kind in Kinds) await CompareAsync(record, again.Reader, machine, kind, token);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
        return new RebuildReport(_waiting, _compared, _differ, _differences) { Standing = _standing };
    }

    private async Task DeriveAsync(StoreReader record, AuditStore again, CancellationToken token)
    {
        var sheets = new SheetShelf();
        var reviews = await Shelves.ReviewsAsync(record, token);
        var reader = new ArrivalReader(options.Shop, record);
        await ReadAsync(SheetFindings.Sheets, reader, record, again, new Shelves(sheets, reviews), token);
        await new SheetFindings(options.Shop, again).RecordAsync(Because, token);
        foreach (var machine in options.Shop.Machines)
        {
            var shelves = new Shelves(sheets, reviews);
            await ReadAsync(machine.Name, reader, record, again, shelves, token);
            var timeLine = new TimeLine(machine, again.Reader, record, reader);
            var audit = new MachineAudit(options, machine, shelves, again, timeLine);
            if (await PrunedStates.OfAsync(record, machine, token) is { } state)
                _floors[machine.Name] = FoldScope.Floor(state);
            await audit.LeaveOutAsync(await record.GapsAsync(machine.Name, token), token);
            await audit.DeriveAsync(await record.HorizonAsync(machine.Name, token), Because, token);
            await audit.RecordProgramsAsync(Because, token);
        }
    }

    private async Task ReadAsync(string machine, ArrivalReader reader, StoreReader record, AuditStore again,
        Shelves shelves, CancellationToken token)
    {
        var reading = new MachineReading(machine, reader, again, record, shelves, [], options.Progress);
        // A service that was stopped left them for its next start.
        var waiting = (await record.UnreadAsync(machine, int.MaxValue, token)).Select(stored => stored.Seq).ToHashSet();
        _waiting += waiting.Count;
        var some = new List<StoredArrival>(AtOnce);
        await foreach (var stored in record.ArrivalsAsync(machine, 0, token))
        {
            if (!waiting.Contains(stored.Seq)) some.Add(stored);
            if (some.Count < AtOnce) continue;
            await ReadAsync(reading, record, some, token);
            some.Clear();
        }
        if (some.Count > 0) await ReadAsync(reading, record, some, token);
    }

    // What was dropped cannot be read again: what was recorded of it stands.
    private async Task ReadAsync(
        MachineReading reading, StoreReader record, List<StoredArrival> some, CancellationToken token)
    {
        var dropped = await record.Prunings.DroppedAsync(some.Select(stored => stored.Arrival.Sha256), token);
        foreach (var stored in some.Where(stored => dropped.ContainsKey(stored.Arrival.Sha256)))
            _dropped.Add(stored.Arrival.Id);
        var left = some.Where(stored => !dropped.ContainsKey(stored.Arrival.Sha256)).ToList();
        if (left.Count > 0) await reading.ReadAsync(left, token);
    }

    // Both lists are in the order of moment and id: they are walked side by side.
    private async Task CompareAsync(
        StoreReader record, StoreReader again, string machine, DerivedKind kind, CancellationToken token)
    {
        var query = new DerivedQuery { Kind = kind, Machine = machine };
        await using var left = record.DerivedAsync(query, token).Where(row => !Stands(row)).GetAsyncEnumerator(token);
        await using var right = again.DerivedAsync(query, token).GetAsyncEnumerator(token);
        var recorded = await NextAsync(left);
        var rebuilt = await NextAsync(right);
        while (recorded is not null || rebuilt is not null)
        {
            var order = Compare(recorded, rebuilt);
            Note(machine, kind, order <= 0 ? recorded : null, order >= 0 ? rebuilt : null);
            if (order <= 0) recorded = await NextAsync(left);
            if (order >= 0) rebuilt = await NextAsync(right);
        }
    }

    private bool Stands(StoredDerived row)
    {
        var stands = row.Kind switch
        {
            DerivedKind.Arrival => _dropped.Contains(row.Id),
            DerivedKind.Program => false,
            _ => _floors.TryGetValue(row.Machine, out var floor) && row.ScopeUtc < floor,
        };
        if (stands) _standing++;
        return stands;
    }

    private void Note(string machine, DerivedKind kind, StoredDerived? recorded, StoredDerived? rebuilt)
    {
        _compared++;
        if (recorded?.Body == rebuilt?.Body && recorded?.Setup == rebuilt?.Setup) return;
        _differ++;
        if (_differences.Count < DifferencesMost)
            _differences.Add(new RebuildDifference(
                machine, kind, (recorded ?? rebuilt)?.Id ?? "", recorded?.Body, rebuilt?.Body));
    }

    private static int Compare(StoredDerived? left, StoredDerived? right)
    {
        if (left is null) return 1;
        if (right is null) return -1;
        var order = left.AtUtc.CompareTo(right.AtUtc);
        return order == 0 ? string.CompareOrdinal(left.Id, right.Id) : order;
    }

    private static async Task<StoredDerived?> NextAsync(IAsyncEnumerator<StoredDerived> rows) =>
        await rows.MoveNextAsync() ? rows.Current : null;
}
