using SetupAudit.Findings;
using SetupAudit.Readings;

namespace SetupAudit.Folding;

/// <summary>Notes when a source writes and what its clocks show.</summary>
internal static class SourceWatch
{
    public static SourceSight Next(SourceSight? before, Sighting sighting)
    {
        var line = sighting.At(Math.Max(0, sighting.Line));
        return new SourceSight
        {
            Beat = before?.Beat is { } beat
                ? beat.Next(sighting.AtUtc, line)
                : SourceBeat.Begin(sighting.AtUtc, line),
            Print = ClockWatch.Compare(before?.Print, sighting),
            File = ClockWatch.OfFile(before?.File, sighting),
        };
    }
}
