using SetupAudit.Alerts;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Auditing;

/// <summary>
/// Tells the store what alerts make of findings, machine by machine: which are news, and which only come to light
/// because the configuration or program is another, or a machine is looked at for the first time (contract promise 2).
/// </summary>
internal sealed class NewsDesk(ShopConfig shop, AlertPolicy policy, StoreReader store, TimeProvider time)
{
    private AlertNews _news = AlertNews.All;

    public StoredAlert? Look(string machine, DerivedChange change, DateTimeOffset nowUtc) =>
        policy.Look(machine, change, _news, nowUtc);

    /// <summary>A machine is about to be derived.</summary>
    /// <param name="because">What is another than before; null where only evidence came.</param>
    public async Task BeginAsync(string machine, string? because, CancellationToken token)
    {
        if (because is null)
        {
            _news = AlertNews.All;
            return;
        }
        var last = await store.HorizonAsync(machine, token);
        var nowUtc = time.GetUtcNow();
        _news = last is { } lastUtc
            ? new AlertNews
            {
                AfterUtc = lastUtc,
                NewEvidence = await store.Outbox.NewEvidenceAsync(machine, token),
                Past = because,
            }
            // What was found a moment ago still helps whoever stands at the machine; an archive helps nobody.
            : new AlertNews
            {
                AfterUtc = nowUtc - TimeSpan.FromMinutes(shop.FreshMinutes),
                Past = "it held before the machine was first looked at",
            };
    }
}
