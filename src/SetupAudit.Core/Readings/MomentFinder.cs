using System.Text;
using System.Text.RegularExpressions;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>
/// Finds the moment that the files of one Watch entry speak of: in the name or the text where the configuration says
/// so,
/// else the time on the share. Never the clock of whoever reads.
/// </summary>
public sealed class MomentFinder
{
    /// <summary>How much of a text is looked at: a control writes the time at the top.</summary>
    public const int TextMostBytes = 64 * 1024;

    private const string TimeGroup = "time";

    private readonly TimeFrom _from;
    private readonly Regex? _pattern;
    private readonly WrittenTime? _time;

    /// <summary>The Watch entry has been checked: its pattern compiles and has a group <c>time</c>.</summary>
    public MomentFinder(WatchConfig watch, MachineConfig machine, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(watch);
        if (watch.Time == TimeFrom.File || watch.TimePattern is null || watch.TimeFormat is null) return;
        _from = watch.Time;
        _pattern = _from == TimeFrom.Text
            ? LinearPattern.CreateForLines(watch.TimePattern)
            : LinearPattern.Create(watch.TimePattern);
        _time = new WrittenTime(watch.TimeFormat, machine, clock);
    }

    /// <summary>Does not throw.</summary>
    /// <param name="name">The file's name below the watched folder, with forward slashes.</param>
    /// <param name="bytes">The file, or at least its first 64 KB.</param>
    /// <param name="modifiedUtc">The file's time on the share.</param>
    public Moment Find(string name, ReadOnlySpan<byte> bytes, DateTimeOffset modifiedUtc)
    {
        if (_pattern is null || _time is null) return new Moment(modifiedUtc, TimeFrom.File, null);
        var where = _from == TimeFrom.Name ? "name" : "text";
        var match = _pattern.Match(_from == TimeFrom.Name ? name : TextOf(bytes));
        if (!match.Success || !match.Groups[TimeGroup].Success)
            return new Moment(modifiedUtc, TimeFrom.File, $"no time in its {where}; taken from the file's time");
        var written = match.Groups[TimeGroup].ValueSpan;
        return _time.TryRead(written, out var utc)
            ? new Moment(utc, _from, null)
            : new Moment(modifiedUtc, TimeFrom.File,
                $"the time {Wording.Quote(written)} in its {where} is not written as {_time.Format}; "
                    + "taken from the file's time");
    }

    private static string TextOf(ReadOnlySpan<byte> bytes) =>
        Encoding.UTF8.GetString(PlainText.Of(bytes[..Math.Min(bytes.Length, TextMostBytes)]).Bytes)
            .ReplaceLineEndings("\n");
}
