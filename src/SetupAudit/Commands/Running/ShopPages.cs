using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Web;

namespace SetupAudit.Commands.Running;

/// <summary>Makes the pages out of the record, a few at a time: the audit comes first.</summary>
internal sealed class ShopPages(Func<ShopConfig> shop, Func<Health> health, TimeProvider time) : IDisposable
{
    private const int AtOnce = 2;
    private const int SetupsMost = 5;

    // Where something happened lately, the rest of the history is not looked through.
    private static readonly TimeSpan Lately = TimeSpan.FromDays(30);

    private readonly SemaphoreSlim _turns = new(AtOnce);

    public PageSource Source => new(
        token => InTurnAsync(store => FirstAsync(store, shop(), token), token),
        (id, token) => InTurnAsync(store => SetupAsync(store, shop(), id, token), token));

    public void Dispose() => _turns.Dispose();

    private async Task<T> InTurnAsync<T>(Func<StoreReader, Task<T>> make, CancellationToken token)
    {
        await _turns.WaitAsync(token);
        try
        {
            using var store = await StoreReader.OpenAsync(shop().Store, token);
            return await make(store);
        }
        finally
        {
            _turns.Release();
        }
    }

    private async Task<string?> FirstAsync(StoreReader store, ShopConfig now, CancellationToken token)
    {
        var machines = new List<MachineOverview>();
        var stand = health();
        foreach (var machine in now.Machines)
            machines.Add(await OfAsync(store, machine.Name, token) with { Unread = Unread(stand, machine.Name) });
        return OverviewPage.Of(new ShopOverview
        {
            Shop = now.Name,
            Zone = TimeZoneInfo.FindSystemTimeZoneById(now.TimeZone),
            Machines = machines,
            Fault = stand.Fault,
            MadeUtc = time.GetUtcNow(),
            Version = ProgramVersion.Text,
        });
    }

    private static IReadOnlyList<string> Unread(Health stand, string machine) =>
        [.. stand.Machines.Where(one => one.Machine == machine).SelectMany(one => one.Sources)
            .Where(source => source.Fault is not null)
            .Select(source => $"{source.Source} cannot be read now: {source.Fault}.")];

    private async Task<string?> SetupAsync(StoreReader store, ShopConfig now, string id, CancellationToken token)
    {
        var found = await store.BeginningAsync(DerivedKind.Setup, id, 1, token);
        if (found is not [{ } head] || head.Id != id || now.Machine(head.Machine) is null) return null;
        return HtmlReport.Of(await ReportCommand.ReadAsync(now, store, head, new QuotedLines(store), time, token));
    }

    private static async Task<MachineOverview> OfAsync(StoreReader store, string machine, CancellationToken token)
    {
        var horizon = await store.HorizonAsync(machine, token);
        var rows = await LastAsync(store, machine, horizon - Lately, token);
        if (rows.Count == 0) rows = await LastAsync(store, machine, null, token);
        var setups = rows.Select(row => ShapeBody.Read<SetupView>(row.Body)).Reverse().ToList();
        var findings = new List<FindingView>();
        foreach (var setup in setups)
            await foreach (var row in store.DerivedAsync(
                new DerivedQuery { Kind = DerivedKind.Finding, Machine = machine, Setup = setup.Setup }, token))
                findings.Add(ShapeBody.Read<FindingView>(row.Body));
        return new MachineOverview(machine, horizon, setups, findings);
    }

    /// <summary>The last setups since a moment, the newest at the end.</summary>
    private static async Task<IReadOnlyList<StoredDerived>> LastAsync(
        StoreReader store, string machine, DateTimeOffset? sinceUtc, CancellationToken token)
    {
        var last = new Queue<StoredDerived>();
        var query = new DerivedQuery { Kind = DerivedKind.Setup, Machine = machine, SinceUtc = sinceUtc };
        await foreach (var row in store.DerivedAsync(query, token))
        {
            last.Enqueue(row);
            if (last.Count > SetupsMost) last.Dequeue();
        }
        return [.. last];
    }
}
