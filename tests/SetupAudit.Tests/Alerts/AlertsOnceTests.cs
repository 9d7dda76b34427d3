using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>What comes of findings when the audit runs once: which are told, which not and why.</summary>
public sealed class AlertsOnceTests : IDisposable
{
    private readonly AlertBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_finding_that_evidence_brings_is_told_with_what_moved_and_its_limit()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        var summary = await _bench.OnceAsync();

        Assert.Equal(new SendCount(1, 0, 0), summary.Sent);
        var message = Assert.Single(_bench.Channel.Reached);
        Assert.Equal((AlertKind.Raised, Severity.High, "mill-3", "mill-3@20260302-070900", "mill-3@20260302-070900"),
            (message.Kind, message.Severity, message.Machine, message.Setup, message.Thread));
        var finding = Assert.Single(message.Findings);
        Assert.Equal("mill-3@20260302-070900/over-limit/G54.Z", finding.Id);
        Assert.Equal("Z of G54 moved by -5.000 mm (from -300.000 to -305.000 mm) by 2026-03-02 07:09, beyond the limit of 1 mm.",
            finding.Message);
        Assert.Equal([new AlertMove("Z of G54", -300.000m, -305.000m, -5.000m, Units.Unit.Millimetre) { Limit = 1m }], finding.Moves);
        Assert.Equal(["mill-3@20260302-070900/over-limit/G54.Z Raised: Queued, Sent"], await _bench.LinesAsync());
    }

    [Fact]
    public async Task What_holds_on_is_not_told_again()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        _bench.Pass(1);
        await _bench.OnceAsync();
        Assert.Single(_bench.Channel.Reached);
    }

    [Fact]
    public async Task A_first_look_at_an_archive_tells_nobody()
    {
        _bench.Dump(-300m, _bench.Clock.GetUtcNow().AddDays(-3));
        _bench.Dump(-305m, _bench.Clock.GetUtcNow().AddDays(-2));
        await _bench.OnceAsync();
        Assert.Empty(_bench.Channel.Reached);
        Assert.Equal(["mill-3@20260228-070000/over-limit/G54.Z Raised: it is about the past: it held before the machine was first looked at"],
            await _bench.LinesAsync());
    }

    [Fact]
    public async Task A_first_look_tells_what_was_found_a_moment_ago()
    {
        _bench.Dump(-300m, _bench.Clock.GetUtcNow().AddMinutes(-20));
        _bench.Dump(-305m, _bench.Clock.GetUtcNow().AddMinutes(-10));
        await _bench.OnceAsync();
        Assert.Single(_bench.Channel.Reached);
    }

    [Fact]
    public async Task What_another_configuration_adds_about_the_past_tells_nobody()
    {
        await _bench.BeginAsync();
        _bench.Dump(-300.5m);
        await _bench.OnceAsync();
        _bench.Pass(1);
        _bench.Limits = "[ { \"Register\": \"G54\", \"Axis\": \"Z\", \"Change\": 0.1 } ]";
        await _bench.OnceAsync();
        Assert.Empty(_bench.Channel.Reached);
        Assert.StartsWith("mill-3@20260302-070900/over-limit/G54.Z Raised: it is about the past: the configuration changed",
            Assert.Single(await _bench.LinesAsync()), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_came_while_the_configuration_was_changed_is_told_all_the_same()
    {
        await _bench.BeginAsync();
        _bench.Dump(-300.5m);
        await _bench.OnceAsync();
        _bench.Pass(5);
        _bench.Limits = "[ { \"Register\": \"G54\", \"Axis\": \"Z\", \"Change\": 0.1 } ]";
        // By its time on the share it is older than the last look, but its bytes are new.
        _bench.Dump(-301m, _bench.Clock.GetUtcNow().AddMinutes(-5.5));
        await _bench.OnceAsync();
        Assert.Equal("Z of G54 moved by -0.500 mm (from -300.500 to -301.000 mm) by 2026-03-02 07:09, beyond the limit of 0.1 mm.",
            Assert.Single(Assert.Single(_bench.Channel.Reached).Findings).Message);
    }

    [Fact]
    public async Task A_service_that_was_down_for_days_tells_what_it_missed()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        _bench.Pass(4 * 24 * 60);
        await _bench.OnceAsync();
        var finding = Assert.Single(Assert.Single(_bench.Channel.Reached).Findings);
        Assert.Equal(TimeSpan.FromDays(4), _bench.Channel.Reached[0].QueuedUtc - finding.AtUtc - TimeSpan.FromMinutes(1));
    }

    [Fact]
    public async Task What_is_milder_than_the_severity_sent_is_listed_with_that_reason()
    {
        _bench.Alerts = "\"Severity\": \"stop\"";
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        Assert.Empty(_bench.Channel.Reached);
        Assert.Equal(["mill-3@20260302-070900/over-limit/G54.Z Raised: its severity is high, and stop and up is sent"],
            await _bench.LinesAsync());
    }

    [Fact]
    public async Task What_could_not_be_sent_stays_and_goes_the_next_time()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        _bench.Channel.Answers.Enqueue(new SendResult(SendOutcome.Temporary, "the receiver is away"));
        var summary = await _bench.OnceAsync();
        Assert.Equal((new SendCount(0, 1, 0), false), (summary.Sent, summary.SomethingIsWrong));
        summary = await _bench.OnceAsync();
        Assert.Equal(new SendCount(1, 0, 0), summary.Sent);
        Assert.Equal(2, _bench.Channel.Reached.Count);
        Assert.Single(_bench.Channel.Reached.Select(message => message.Id).Distinct());
        Assert.Equal(["mill-3@20260302-070900/over-limit/G54.Z Raised: Queued, Temporary, Sent"], await _bench.LinesAsync());
    }

    [Fact]
    public async Task What_will_never_go_is_given_up_and_said_to_be_wrong()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        _bench.Channel.Answers.Enqueue(new SendResult(SendOutcome.Permanent, "no such address"));
        var summary = await _bench.OnceAsync();
        Assert.Equal((new SendCount(0, 0, 1), true), (summary.Sent, summary.SomethingIsWrong));
        Assert.Equal(SendCount.None, (await _bench.OnceAsync()).Sent);
    }

    [Fact]
    public async Task A_receiver_that_needs_a_person_is_left_alone_until_the_configuration_changes()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        _bench.Channel.Answers.Enqueue(new SendResult(SendOutcome.Final, "the password is wrong"));
        Assert.Equal(new SendCount(0, 0, 1), (await _bench.OnceAsync()).Sent);
        _bench.Pass(40);
        _bench.Dump(-310m);
        Assert.Equal(new SendCount(0, 1, 0), (await _bench.OnceAsync()).Sent);
        Assert.Single(_bench.Channel.Reached);

        _bench.Alerts = "\"Severity\": \"high\", \"Most\": 11";
        Assert.Equal(new SendCount(2, 0, 0), (await _bench.OnceAsync()).Sent);
        Assert.Equal(3, _bench.Channel.Reached.Count);
    }

    [Fact]
    public async Task What_has_arrived_when_the_program_is_asked_to_end_is_said_and_not_sent_again()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(AlertBench.Token);
        _bench.Channel.OnMessage = async (_, _) => await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () =>
        {
            await _bench.OnceUntilAsync(stop.Token);
            stop.Token.ThrowIfCancellationRequested();
        });
        Assert.Equal(["mill-3@20260302-070900/over-limit/G54.Z Raised: Queued, Sent"], await _bench.LinesAsync());
        await _bench.OnceAsync();
        Assert.Single(_bench.Channel.Reached);
    }

    [Fact]
    public async Task One_receiver_that_fails_does_not_keep_it_from_another()
    {
        var other = new HandChannel("other");
        _bench.Channels.Add(other);
        _bench.Channel.Usual = new SendResult(SendOutcome.Temporary, "away");
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        Assert.Equal(new SendCount(1, 1, 0), (await _bench.OnceAsync()).Sent);
        Assert.Single(other.Reached);
    }

    [Fact]
    public async Task What_was_told_and_no_longer_holds_is_told_to_have_cleared_and_why()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        var raised = Assert.Single(_bench.Channel.Reached);

        _bench.Pass(1);
        _bench.Limits = "[ { \"Register\": \"G54\", \"Axis\": \"Z\", \"Change\": 9 } ]";
        await _bench.OnceAsync();
        var cleared = _bench.Channel.Reached[^1];
        Assert.Equal((AlertKind.Cleared, true), (cleared.Kind, Assert.Single(cleared.Findings).Cleared));
        Assert.StartsWith("the configuration changed", cleared.Findings[0].Because, StringComparison.Ordinal);
        Assert.NotEqual(raised.Id, cleared.Id);
        Assert.Equal(raised.Thread, cleared.Thread);
    }
}
