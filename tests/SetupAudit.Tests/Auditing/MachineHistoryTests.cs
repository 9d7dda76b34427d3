using SetupAudit.Datums;
using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

public sealed class MachineHistoryTests
{
    [Fact]
    public async Task A_register_stands_at_each_moment_as_the_last_evidence_before_it_showed()
    {
        using var bench = new AuditBench();
        for (var day = 1; day <= 9; day++)
            bench.Write($"offsets/{day}.nc", Dump(-400 - day, -200, -300), $"2026-03-0{day}T07:00:00Z");
        await bench.OnceAsync();

        using var store = await StoreReader.OpenAsync(bench.StoreFolder, Token);
        var shop = bench.Options().Shop;
        var history = await MachineHistory.OpenAsync(shop, shop.Machines[0], store, Token);
        for (var day = 1; day <= 9; day++)
        {
            Assert.Equal(-400m - day, await XAsync($"2026-03-0{day}T07:00:00Z"));
            Assert.Equal(-400m - day, await XAsync($"2026-03-0{day}T23:00:00Z"));
        }
        Assert.Null(await XAsync("2026-03-01T06:59:59Z"));
        Assert.Equal(-409m, (await history.StateAtAsync(null, Token)).Table.Value(Register.System(1), Axis.X));

        async Task<decimal?> XAsync(string moment) => (await history.StateAtAsync(
            DateTimeOffset.Parse(moment, System.Globalization.CultureInfo.InvariantCulture), Token)).Table.Value(Register.System(1), Axis.X);
    }
}
