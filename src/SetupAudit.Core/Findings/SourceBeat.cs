using System.Collections.Immutable;
using SetupAudit.Evidence;

namespace SetupAudit.Findings;

/// <summary>When a source wrote, as far back as says what is usual.</summary>
public sealed record SourceBeat
{
    /// <summary>What is usual is learned from four weeks, so that it follows a shop that changes its shifts.</summary>
    public const int HoursKept = 4 * 7 * 24;

    private const int GapsMost = 63;

    // Lines that follow closer belong to one writing, however they were read.
    private static readonly TimeSpan OneWriting = TimeSpan.FromMinutes(1);

    public required DateTimeOffset FirstUtc { get; init; }

    public required DateTimeOffset LastUtc { get; init; }

    /// <summary>What it wrote last.</summary>
    public required SourceLine Last { get; init; }

    /// <summary>When the last of the writings began that are counted.</summary>
    public required DateTimeOffset CountedUtc { get; init; }

    /// <summary>How often it wrote, a minute or more apart.</summary>
    public int Count { get; init; } = 1;

    /// <summary>The hours since 1970 in which it wrote, oldest first, of the last four weeks.</summary>
    public ImmutableList<int> Hours { get; init; } = [];

    /// <summary>Seconds between one writing and the next, of the last ones.</summary>
    public ImmutableList<int> GapsSeconds { get; init; } = [];

    public static SourceBeat Begin(DateTimeOffset atUtc, SourceLine line) => new()
    {
        FirstUtc = atUtc,
        LastUtc = atUtc,
        CountedUtc = atUtc,
        Last = line,
        Hours = [HourOf(atUtc)],
    };

    /// <summary>With one more line, which is not earlier than the last.</summary>
    public SourceBeat Next(DateTimeOffset atUtc, SourceLine line)
    {
        var next = this with { LastUtc = atUtc, Last = line };
        if (atUtc - CountedUtc >= OneWriting)
        {
            var gap = (int)Math.Min(int.MaxValue, (atUtc - CountedUtc).TotalSeconds);
            var gaps = GapsSeconds.Count < GapsMost ? GapsSeconds : GapsSeconds.RemoveAt(0);
            next = next with { CountedUtc = atUtc, Count = Count + 1, GapsSeconds = gaps.Add(gap) };
        }

        var hour = HourOf(atUtc);
        if (hour == Hours[^1]) return next;
        var old = 0;
        while (old < Hours.Count && Hours[old] <= hour - HoursKept) old++;
        return next with { Hours = Hours.RemoveRange(0, old).Add(hour) };
    }

    public static int HourOf(DateTimeOffset momentUtc) => (int)(momentUtc.ToUnixTimeSeconds() / 3600);

    /// <summary>The middle one of the last gaps; null where there is none.</summary>
    public TimeSpan? UsualGap => GapsSeconds.Count == 0
        ? null
        : TimeSpan.FromSeconds(GapsSeconds.Order().ElementAt(GapsSeconds.Count / 2));
}
