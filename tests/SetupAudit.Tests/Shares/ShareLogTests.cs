using System.Globalization;
using Serilog;
using Serilog.Core;
using Serilog.Events;
using SetupAudit.Support;

namespace SetupAudit.Shares;

public sealed class ShareLogTests
{
    private readonly HandClock _clock = new();
    private readonly List<string> _lines = [];
    private readonly ShareLog _log;

    public ShareLogTests()
    {
        var logger = new LoggerConfiguration().WriteTo.Sink(new Lines(_lines)).CreateLogger();
        _log = new ShareLog(new ShareBench().Source, _clock, logger);
    }

    [Fact]
    public void A_fault_is_told_at_once_then_once_a_minute_and_its_end_too()
    {
        for (var second = 0; second < 130; second += 2, _clock.Advance(2)) _log.Fault("it does not answer");
        for (var second = 0; second < 130; second += 2, _clock.Advance(2)) _log.Fine();

        Assert.Equal(
            [
                "Cannot read mill-3:shares/mill-3/offsets: it does not answer",
                "Cannot read mill-3:shares/mill-3/offsets: it does not answer (29 tries failed since the last line)",
                "Cannot read mill-3:shares/mill-3/offsets: it does not answer (29 tries failed since the last line)",
                "Reading mill-3:shares/mill-3/offsets again",
            ],
            _lines);
    }

    [Fact]
    public void A_share_that_comes_and_goes_is_one_line_a_minute()
    {
        for (var second = 0; second < 600; second += 2, _clock.Advance(2))
        {
            if (second % 4 == 0) _log.Fault("it does not answer");
            else _log.Fine();
        }

        Assert.InRange(_lines.Count, 9, 10);
    }

    [Fact]
    public void A_share_that_is_well_is_not_talked_about()
    {
        _log.Fine();

        Assert.Empty(_lines);
    }

    private sealed class Lines(List<string> lines) : ILogEventSink
    {
        public void Emit(LogEvent logEvent) => lines.Add(logEvent.RenderMessage(CultureInfo.InvariantCulture)
            .Replace("\"", "", StringComparison.Ordinal));
    }
}
