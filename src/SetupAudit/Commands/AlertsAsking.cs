using SetupAudit.Alerts;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// Has something done about alerts: by the service that holds the store, or by this command where none does.
/// </summary>
internal static class AlertsAsking
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    public static async Task<AlertAnswer> DoAsync(
        LoadedConfiguration loaded, AlertAsk ask, Terminal terminal, CancellationToken token)
    {
        var shop = loaded.Config ?? throw new InvalidOperationException("a configuration with faults was loaded");
        var folder = shop.Store.Folder;
        // A folder without a record says so, and gets none by this.
        using (await StoreReader.OpenAsync(shop.Store, token))
        {
        }
        if (StoreLock.IsHeld(folder)) return await HandOverAsync(new AskBox(folder), ask, terminal, token);
        await using var store = await AuditStore.OpenAsync(shop.Store, RecordOptions.Of(shop), terminal.Time, token);
        return await AlertDesk.Of(shop.Alerts, loaded.Sha256, store, terminal.Time).DoAsync(ask, token);
    }

    private static async Task<AlertAnswer> HandOverAsync(
        AskBox box, AlertAsk ask, Terminal terminal, CancellationToken token)
    {
        var clock = terminal.Time;
        box.Put(ask);
        var began = clock.GetTimestamp();
        while (clock.GetElapsedTime(began) < Patience)
        {
            if (box.Answer(ask.Id) is { } answer) return answer;
            await Task.Delay(LookEvery, clock, token);
        }
        box.TakeBack(ask.Id);
        return new AlertAnswer(ask.Id, false, "The process that holds the store did not answer within 30 s. Is it a "
            + "service whose configuration has Alerts? Try again, or ask while it is stopped.");
    }
}
