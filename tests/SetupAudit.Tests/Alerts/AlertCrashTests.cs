using SetupAudit.Auditing;
using SetupAudit.Shares;
using SetupAudit.Store;

namespace SetupAudit.Alerts;

/// <summary>
/// The store dies at each step of each write in turn, while a finding is recorded, put up, sent and said to be sent.
/// </summary>
public sealed class AlertCrashTests : IDisposable
{
    private const int AtEachStep = 60;
    private const int AfterSending = 4;
    private const int Runs = AtEachStep + AfterSending;

    private readonly AlertBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task Nothing_is_lost_at_whichever_step_it_dies_and_what_comes_twice_has_the_same_id()
    {
        await _bench.BeginAsync();
        var (died, z) = (0, -300m);
        for (var run = 1; run <= Runs; run++)
        {
            _bench.Dump(z = z == -300m ? -305m : -300m);
            var (steps, sent) = (0, _bench.Channel.Reached.Count);
            // At each step in turn; then, wherever that is, between sending and saying so.
            var isAt = run <= AtEachStep
                ? () => ++steps == run
                : (Func<bool>)(() => _bench.Channel.Reached.Skip(sent).Any(IsOverLimit));
            if (await DiesAsync(isAt)) died++;
            _bench.Pass(60);
        }
        await _bench.OnceAsync();
        await _bench.OnceAsync();

        var lines = (await _bench.LinesAsync()).Where(line => line.Contains("/over-limit/", StringComparison.Ordinal)).ToList();
        Assert.Equal(Runs, lines.Count);
        Assert.All(lines, line => Assert.EndsWith("Sent", line, StringComparison.Ordinal));
        var told = _bench.Channel.Reached.SelectMany(message => message.Findings.Select(finding => (finding.Id, Message: message.Id)))
            .Where(one => one.Id.Contains("/over-limit/", StringComparison.Ordinal)).ToList();
        Assert.Equal(Runs, told.Select(one => one.Id).Distinct().Count());
        Assert.Equal(Runs, told.Distinct().Count());
        Assert.True(told.Count >= Runs + AfterSending, $"a crash between sending and recording sends twice: {told.Count}");
        Assert.True(died > 20, $"only {died} runs died");
    }

    private static bool IsOverLimit(AlertMessage message) =>
        message.Findings.Any(finding => finding.Id.Contains("/over-limit/", StringComparison.Ordinal));

    // Dies as a process does: what was committed is there, nothing after it is done.
    private async Task<bool> DiesAsync(Func<bool> isAt)
    {
        var auditor = new Auditor(_bench.Options(), new LocalFiles(), _bench.Clock)
        {
            OnOpened = store => store.OnStep = at =>
            {
                if (at is StoreStep.RowsWritten or StoreStep.Committed && isAt()) throw new DiedException();
            },
        };
        try
        {
            await auditor.OnceAsync(AlertBench.Token);
            return false;
        }
        catch (DiedException)
        {
            return true;
        }
    }

    private sealed class DiedException : Exception;
}
