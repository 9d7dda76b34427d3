using System.Globalization;

namespace SetupAudit.Shares;

/// <summary>
/// A share on the local disk that gets a new file again and again: how long each takes to be kept shows whether what
/// happens to other shares is felt here.
/// </summary>
internal sealed class LocalPulse : IDisposable
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(0.25);
    private readonly string _folder;
    private readonly ArrivalLog _log;
    private readonly List<(string File, DateTimeOffset WrittenUtc, bool IsQuiet)> _beats = [];
    private readonly ManualResetEventSlim _never = new();

    public LocalPulse(string folder, ArrivalLog log)
    {
        _folder = Path.Combine(folder, "offsets");
        _log = log;
        Directory.CreateDirectory(_folder);
        Directory.CreateDirectory(Path.Combine(folder, "prints"));
    }

    public void Beat(TimeSpan time, bool isQuiet)
    {
        var until = DateTimeOffset.UtcNow + time;
        while (DateTimeOffset.UtcNow < until) Once(isQuiet);
    }

    public void BeatUntil(Func<bool> ended)
    {
        while (!ended()) Once(isQuiet: false);
    }

    /// <summary>Seconds from a file's end to its being kept: while all was quiet, and while shares were dropped.</summary>
    public (double Quiet, double During) Medians()
    {
        var kept = _log.Of("local").ToDictionary(one => Path.GetFileName(one.File), one => one.ReceivedUtc);
        double Median(bool isQuiet)
        {
            var times = _beats.Where(beat => beat.IsQuiet == isQuiet && kept.ContainsKey(beat.File))
                .Select(beat => (kept[beat.File] - beat.WrittenUtc).TotalSeconds).Order().ToList();
            return times[times.Count / 2];
        }

        return (Median(isQuiet: true), Median(isQuiet: false));
    }

    public void Dispose() => _never.Dispose();

    private void Once(bool isQuiet)
    {
        var file = string.Create(CultureInfo.InvariantCulture, $"{_beats.Count}.nc");
        File.WriteAllText(Path.Combine(_folder, file), string.Create(CultureInfo.InvariantCulture,
            $"%\nG10 L2 P1 X-310.{_beats.Count:0000} Y-205. Z-300.\n%\n"));
        _beats.Add((file, DateTimeOffset.UtcNow, isQuiet));
        _never.Wait(Every, TestContext.Current.CancellationToken);
    }
}
