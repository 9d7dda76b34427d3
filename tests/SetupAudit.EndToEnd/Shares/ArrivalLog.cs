using SetupAudit.Evidence;
using SetupAudit.Store;

namespace SetupAudit.Shares;

/// <summary>What a running program has kept so far, read beside it.</summary>
internal sealed class ArrivalLog(string folder) : IDisposable
{
    private readonly Lock _lock = new();
    private readonly Dictionary<string, List<Arrival>> _arrivals = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> _last = new(StringComparer.Ordinal);
    private StoreReader? _store;

    /// <summary>Every arrival of a machine, in the order of taking in.</summary>
    public IReadOnlyList<Arrival> Of(string machine)
    {
        lock (_lock)
        {
            var known = _arrivals.TryGetValue(machine, out var kept) ? kept : _arrivals[machine] = [];
            foreach (var stored in Read(machine, _last.GetValueOrDefault(machine)))
            {
                known.Add(stored.Arrival);
                _last[machine] = stored.Seq;
            }

            return [.. known];
        }
    }

    public void Dispose() => _store?.Dispose();

    private List<StoredArrival> Read(string machine, long after)
    {
        // SQLite answers at once, on this thread; there is nothing to await.
        var reading = ReadAsync(machine, after);
        reading.Wait(TestContext.Current.CancellationToken);
        return reading.Result;
    }

    private async Task<List<StoredArrival>> ReadAsync(string machine, long after)
    {
        var token = TestContext.Current.CancellationToken;
        _store ??= await StoreReader.OpenAsync(folder, token);
        var found = new List<StoredArrival>();
        await foreach (var stored in _store.ArrivalsAsync(machine, after, token)) found.Add(stored);
        return found;
    }
}
