using System.Globalization;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary>
/// What is said of time stamps: by <c>verify</c> of those there are, by <c>check</c> of those to come.
/// </summary>
internal static class StampLines
{
    public static string Of(StampState stamp) => string.Create(CultureInfo.InvariantCulture,
        $"Time-stamped to {stamp.Size} on {stamp.AtUtc:yyyy-MM-ddTHH:mm:ssZ} by {stamp.By} ")
        + $"({Figures.Count(stamp.Count, "stamp", "stamps")} in {stamp.Path}"
        + (stamp.IsOffBox ? ", off this computer)" : ")")
        + (stamp.IsTrusted ? "." : "; not checked against a trusted authority: anybody can make such a stamp. Give "
            + "the authority's certificates with --authority.");

    /// <summary>Who will be asked, and how often.</summary>
    public static IEnumerable<string> Of(StoreConfig store)
    {
        if (store.TimeStamps is { } stamps)
            yield return VisibleText.Of(string.Create(CultureInfo.InvariantCulture,
                $"Checkpoints are time-stamped by {new Uri(stamps.Url).GetLeftPart(UriPartial.Authority)}, at most "
                + $"every {Span(stamps.Every)}."));
    }

    private static string Span(TimeSpan span) => span.Ticks % TimeSpan.TicksPerHour == 0
        ? string.Create(CultureInfo.InvariantCulture, $"{span.TotalHours:0} h")
        : span.ToString("c", CultureInfo.InvariantCulture);

    /// <summary>What is missing now and may be there when it is needed.</summary>
    public static IEnumerable<string> Missing(StoreConfig store)
    {
        if (store.TimeStamps is { } stamps && !File.Exists(stamps.CertificateFile))
            yield return VisibleText.Of($"Store.TimeStamps.CertificateFile: {stamps.CertificateFile} is not there; no "
                + "time stamp is kept until it is.");
    }
}
