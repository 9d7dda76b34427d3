using System.Runtime.CompilerServices;
using System.Text.Json;
using SetupAudit.Evidence;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>One row a configured machine: what it is, what was heard of it, and how much is known.</summary>
internal sealed class MachineList(ListRequest request, StoreReader? store, DateTimeOffset nowUtc)
{
    public async IAsyncEnumerable<ListRow> RowsAsync([EnumeratorCancellation] CancellationToken token)
    {
        var standing = StandingFile.Read(request.Shop.Store.Folder);
        var backlog = store is null ? null : await store.BacklogAsync(token);
        foreach (var machine in request.Shop.Machines)
        {
            if (request.Machine is not null && machine.Name != request.Machine) continue;
            var counts = await CountsAsync(machine, token);
            var line = new MachineLine(machine)
            {
                Counts = counts with { Backlog = backlog?.GetValueOrDefault(machine.Name) ?? 0 },
                Shares = [.. standing?.Sources.Where(share => share.Machine == machine.Name) ?? []],
                IsWatched = standing?.IsWatchedAt(nowUtc) == true,
                Fault = standing?.IsWatchedAt(nowUtc) == true ? standing.Fault : null,
            };
            if (store is not null) line = await ReadAsync(store, line, token);
            yield return new ListRow(ShapeBody.Of(line), null);
        }
    }

    private async Task<MachineCounts> CountsAsync(MachineConfig machine, CancellationToken token) => new()
    {
        Setups = await CountAsync(machine, DerivedKind.Setup, token),
        Changes = await CountAsync(machine, DerivedKind.Change, token),
        Findings = await CountAsync(machine, DerivedKind.Finding, token),
        Cycles = await CountAsync(machine, DerivedKind.Cycle, token),
    };

    private async Task<int> CountAsync(MachineConfig machine, DerivedKind kind, CancellationToken token)
    {
        if (store is null) return 0;
        var count = 0;
        var query = new DerivedQuery { Kind = kind, Machine = machine.Name };
        await foreach (var _ in store.DerivedAsync(query, token)) count++;
        return count;
    }

    private static async Task<MachineLine> ReadAsync(StoreReader store, MachineLine line, CancellationToken token)
    {
        var arrivals = 0;
        var unreadable = 0;
        DateTimeOffset? last = null;
        var ofMachine = new DerivedQuery { Kind = DerivedKind.Arrival, Machine = line.Machine.Name };
        await foreach (var row in store.DerivedAsync(ofMachine, token))
        {
            arrivals++;
            last = last > row.AtUtc ? last : row.AtUtc;
            if (ShapeBody.Read<ArrivalView>(row.Body).Status != ArrivalStatus.Read) unreadable++;
        }
        return line with
        {
            LastUtc = last,
            HorizonUtc = await store.HorizonAsync(line.Machine.Name, token),
            OpenSetup = await OpenSetupAsync(store, line.Machine.Name, token),
            Counts = line.Counts with { Arrivals = arrivals, Unreadable = unreadable },
        };
    }

    private static async Task<string?> OpenSetupAsync(StoreReader store, string machine, CancellationToken token)
    {
        string? open = null;
        var query = new DerivedQuery { Kind = DerivedKind.Setup, Machine = machine };
        await foreach (var row in store.DerivedAsync(query, token))
        {
            using var body = JsonDocument.Parse(row.Body);
            if (body.RootElement.GetProperty("closed").ValueKind == JsonValueKind.Null) open = row.Id;
        }
        return open;
    }
}
