using System.Data.Common;
using Serilog;
using SetupAudit.Metering;
using SetupAudit.Shares;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Beside the loop: looks every few seconds where all stands, writes it down for other processes, and shows it as
/// metrics. It goes on where the loop is busy or hangs, so that one sees that it is.
/// </summary>
public sealed class StandingLog : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan AtStart = TimeSpan.FromSeconds(1);

    private readonly Auditor _auditor;
    private readonly TimeProvider _clock;
    private readonly IReadOnlyList<IDisposable> _shown;
    private volatile IReadOnlyDictionary<string, long> _backlog = new Dictionary<string, long>();

    public StandingLog(Auditor auditor, TimeProvider clock)
    {
        (_auditor, _clock) = (auditor, clock);
        _shown =
        [
            Meters.Show(MetricBook.ShareUp,
                () => Of(status => status is { Fault: null, LastCleanUtc: not null } ? 1 : 0)),
            Meters.Show(MetricBook.ShareClean, () => Of(status => Age(status.LastCleanUtc))),
            Meters.Show(MetricBook.ShareBlocked, () => Of(status => status.Blocked.TotalSeconds)),
            Meters.Show(MetricBook.SharePending, () => Of(status => status.Pending)),
            Meters.Show(MetricBook.ShareFiles, () => Of(status => status.Files)),
            Meters.Show(MetricBook.Backlog, () => OfMachines(machine => Backlog(machine))),
            Meters.Show(MetricBook.HorizonAge, () => OfMachines(machine => Age(auditor.HorizonUtc(machine)))),
            Meters.Show(MetricBook.LoopAge, () => [new Figure(auditor.Pulse.Age.TotalSeconds)]),
        ];
    }

    /// <summary>How many arrivals of a machine wait to be read, as of a few seconds ago.</summary>
    public long Backlog(string machine) => _backlog.GetValueOrDefault(machine);

    public override void Dispose()
    {
        foreach (var shown in _shown) shown.Dispose();
        base.Dispose();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            var statuses = _auditor.Sources;
            if (statuses.Count > 0) await LookAsync(statuses, stoppingToken);
            else if (_auditor.StoreFault is { } fault)
                Standings.Write(_auditor.Options.Shop, Standings.Failing(fault, _clock.GetUtcNow()));
            await Task.Delay(Rhythm.Next(_clock, statuses.Count > 0 ? Every : AtStart), _clock, stoppingToken)
                .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private async Task LookAsync(IReadOnlyList<ShareStatus> statuses, CancellationToken token)
    {
        Standings.Write(_auditor.Options.Shop, Standings.Of(statuses, _clock.GetUtcNow()));
        await CountAsync(token);
    }

    private async Task CountAsync(CancellationToken token)
    {
        try
        {
            if (await _auditor.BacklogAsync(token) is { } backlog) _backlog = backlog;
        }
        catch (Exception fault) when (fault is StoreException or DbException)
        {
            // The loop meets the same store, and tells; here the last count stays.
            Log.Debug(fault, "Could not count what waits to be read");
        }
        catch (OperationCanceledException) when (token.IsCancellationRequested)
        {
            Log.Debug("Stopped counting");
        }
    }

    private IEnumerable<Figure> Of(Func<ShareStatus, double?> value) =>
        from status in _auditor.Sources
        let figure = value(status)
        where figure is not null
        select new Figure(figure.Value, status.Source.Machine, status.Source.Name);

    private IEnumerable<Figure> OfMachines(Func<string, double?> value) =>
        from machine in _auditor.Options.Shop.Machines
        let figure = value(machine.Name)
        where figure is not null
        select new Figure(figure.Value, machine.Name);

    private double? Age(DateTimeOffset? moment) => moment is { } utc ? (_clock.GetUtcNow() - utc).TotalSeconds : null;
}
