using System.Runtime.InteropServices;
using Serilog;
using SetupAudit.Auditing;
using SetupAudit.Metering;
using SetupAudit.Shop;
using SetupAudit.Web;

namespace SetupAudit.Commands.Running;

/// <summary>
/// Looks every few seconds, and at once when asked (SIGHUP), whether the configuration file holds something else. What
/// holds still and has no fault takes over; what has a fault is refused as a whole, and the one before stays in force.
/// </summary>
internal sealed class ConfigurationWatch(string path, Auditor auditor, TimeProvider clock) : BackgroundService
{
    public static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(2);

    private readonly SemaphoreSlim _asked = new(0, 1);
    private volatile ConfigurationHealth _state = new(auditor.Options.ConfigurationSha256, clock.GetUtcNow());
    private Task? _asking;
    private string? _seen;
    private string? _refused;

    /// <summary>Which configuration is in force.</summary>
    public ConfigurationHealth State => _state;

    /// <summary>One look. A change that nobody asked for must be seen twice: an editor may be writing still.</summary>
    public void Look(bool isAsked)
    {
        var read = ConfigurationFile.Read(path);
        var isSettled = read.Sha256 == _seen;
        _seen = read.Sha256;
        if (read.Sha256 == _state.Sha256)
        {
            if (isAsked) Log.Information("The configuration {File} has not changed", path);
            if (_refused is null) return;
            _refused = null;
            _state = _state with { RefusedUtc = null, Faults = [] };
            Log.Information("The configuration {File} is the one in force again", path);
        }
        else if (isAsked || (isSettled && read.Sha256 != _refused))
        {
            Take(ConfigurationFile.Check(read));
        }
    }

    public override void Dispose()
    {
        _asked.Dispose();
        base.Dispose();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // On Windows this signal is the closing of a console.
        using var hangUp = OperatingSystem.IsWindows() ? null : PosixSignalRegistration.Create(PosixSignal.SIGHUP, Ask);
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                Look(await WaitAsync(stoppingToken));
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
        }
    }

    private void Ask(PosixSignalContext context)
    {
        context.Cancel = true;
        try
        {
            _asked.Release();
        }
        catch (SemaphoreFullException)
        {
            Log.Debug("Asked to look at the configuration while that waits to be done");
        }
    }

    /// <summary>True where it was asked to look, false where it is time to.</summary>
    private async Task<bool> WaitAsync(CancellationToken token)
    {
        // The wait for being asked goes on from look to look, so that none is lost and none ends by an exception.
        _asking ??= _asked.WaitAsync(token);
        await Task.WhenAny(_asking, Task.Delay(Rhythm.Next(clock, LookEvery), clock, token));
        token.ThrowIfCancellationRequested();
        if (!_asking.IsCompleted) return false;
        _asking = null;
        return true;
    }

    private void Take(LoadedConfiguration loaded)
    {
        var before = auditor.Options;
        if (loaded.Config is not { } shop) Refuse(loaded, [.. loaded.FaultLines]);
        else if (shop.Store != before.Shop.Store)
            Refuse(loaded, [$"{path} Store: another store needs a restart; {before.Shop.Store.Folder} is open"]);
        else TakeOver(loaded, shop, before);
    }

    private void TakeOver(LoadedConfiguration loaded, ShopConfig shop, AuditOptions before)
    {
        if (shop.WebUrl != before.Shop.WebUrl)
            Log.Warning("Web.Url {Url} takes effect when the service is restarted; it listens on {Before} until then",
                shop.WebUrl, before.Shop.WebUrl);
        if (shop.OtlpUrl != before.Shop.OtlpUrl)
            Log.Warning("Metrics.Otlp takes effect when the service is restarted");
        auditor.TakeOver(before with
        {
            Shop = shop,
            Configuration = loaded.Bytes,
            ConfigurationSha256 = loaded.Sha256,
        });
        _refused = null;
        _state = new ConfigurationHealth(loaded.Sha256, clock.GetUtcNow());
        Meters.Count(MetricBook.Reloads, 1, "taken");
        Log.Information("The configuration {File} takes over: {Machines} machines, SHA-256 {Sha256}",
            path, shop.Machines.Count, loaded.Sha256);
    }

    private void Refuse(LoadedConfiguration loaded, IReadOnlyList<string> faults)
    {
        _refused = loaded.Sha256;
        _state = _state with { RefusedUtc = clock.GetUtcNow(), Faults = faults };
        Meters.Count(MetricBook.Reloads, 1, "refused");
        foreach (var fault in faults) Log.Error("Configuration refused: {Fault}", fault);
        Log.Error("The configuration {File} is refused; the one before stays in force", path);
    }
}
