using Serilog;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>Says for other processes where the watched folders stand.</summary>
internal static class Standings
{
    /// <summary>While a service watches.</summary>
    public static ServiceStanding Of(IEnumerable<ShareStatus> statuses, DateTimeOffset nowUtc) => new()
    {
        AsOfUtc = nowUtc,
        IsWatching = true,
        Sources =
        [
            .. statuses.Select(status => new SourceStanding
            {
                Machine = status.Source.Machine,
                Source = status.Source.Name,
                CleanUtc = status.LastCleanUtc,
                Fault = status.Fault,
                BlockedSeconds = Math.Round(status.Blocked.TotalSeconds, 3),
                Files = status.Files,
                Pending = status.Pending,
                TornReads = status.TornReads,
            }),
        ],
    };

    /// <summary>While a service runs whose store failed.</summary>
    public static ServiceStanding Failing(string fault, DateTimeOffset nowUtc) =>
        new() { AsOfUtc = nowUtc, IsWatching = true, Fault = fault };

    /// <summary>After one run that ended.</summary>
    public static ServiceStanding Of(IEnumerable<ScanReport> reports, DateTimeOffset nowUtc) => new()
    {
        AsOfUtc = nowUtc,
        IsWatching = false,
        Sources =
        [
            .. reports.Select(report => new SourceStanding
            {
                Machine = report.Source.Machine,
                Source = report.Source.Name,
                CleanUtc = report.Clean ? report.StartedUtc : null,
                Fault = report.Fault,
                Files = report.Files,
                Pending = report.Waiting,
                TornReads = report.Torn,
            }),
        ],
    };

    /// <summary>A disk that takes no file is told; what it would have shown is not worth stopping for.</summary>
    public static void Write(ShopConfig shop, ServiceStanding standing)
    {
        try
        {
            StandingFile.Write(shop.Store.Folder, standing);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            Log.Warning(fault, "Could not write where the shares stand");
        }
    }
}
