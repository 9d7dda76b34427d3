using System.Globalization;
using System.Text.Json;
using SetupAudit.Commands;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What people ask of alerts by commands, with files in a folder as the receiver.</summary>
public sealed class AlertsAskingTests : IDisposable
{
    private readonly AlertBench _bench = new();

    public void Dispose() => _bench.Dispose();

    private async Task<(int Status, string Out, string Errors)> RunAsync(params string[] arguments)
    {
        using var written = new StringWriter(CultureInfo.InvariantCulture);
        using var errors = new StringWriter(CultureInfo.InvariantCulture);
        var terminal = new Terminal { Out = written, Errors = errors, Time = _bench.Clock };
        var status = await CommandLine.RunAsync([.. arguments, "--config", _bench.ConfigFile()], terminal, AlertBench.Token);
        return (status, written.ToString(), errors.ToString());
    }

    private async Task<JsonElement> ListAsync() =>
        Assert.Single(JsonElement.Parse((await RunAsync("list", "alerts", "--json")).Out).EnumerateArray());

    private static string Text(JsonElement row, string field) => row.GetProperty(field).GetString() ?? "";

    [Fact]
    public async Task The_list_says_what_was_sent_to_whom_and_when()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        var row = await ListAsync();
        Assert.Equal(("mill-3@20260302-070900/over-limit/G54.Z", "sent", "high"),
            (Text(row, "finding"), Text(row, "status"), Text(row, "severity")));
        var message = Assert.Single(row.GetProperty("messages").EnumerateArray());
        Assert.Equal(("hand", "sent", "raised", 1),
            (Text(message, "to"), Text(message, "outcome"), Text(message, "kind"), message.GetProperty("tries").GetInt32()));
        Assert.Equal(2, (await RunAsync("list", "alerts", "--csv")).Out.TrimEnd().Split("\r\n").Length);
        Assert.Contains("files hand: sent (raised, try 1)", (await RunAsync("list", "alerts")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_quiet_time_holds_back_and_what_still_stands_at_its_end_is_sent()
    {
        await _bench.BeginAsync();
        var (status, written, _) = await RunAsync(
            "alerts", "quiet", "--machine", "mill-3", "--until", "2026-03-02T08:00", "--by", "Lee", "--reason", "warming up");
        Assert.Equal((0, true), (status, written.EndsWith(" until 2026-03-02T08:00:00Z.\n", StringComparison.Ordinal)));
        Assert.Contains("warming up", (await RunAsync("alerts", "quiet", "--list")).Out, StringComparison.Ordinal);
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        Assert.Empty(_bench.Channel.Reached);
        var row = await ListAsync();
        Assert.Equal(("waiting", "quiet until 2026-03-02T08:00:00Z, asked for by Lee: warming up"),
            (Text(row, "status"), Text(row, "why")));

        _bench.Pass(60);
        await _bench.OnceAsync();
        Assert.Single(_bench.Channel.Reached);
    }

    [Fact]
    public async Task A_quiet_time_can_be_ended_by_somebody_with_a_reason()
    {
        await _bench.BeginAsync();
        var id = (await RunAsync("alerts", "quiet", "--machine", "*", "--until", "2026-03-03", "--by", "Lee", "--reason", "moving"))
            .Out.Split(' ')[1];
        _bench.Dump(-305m);
        Assert.Equal((0, "The quiet time is ended.\n"),
            (await RunAsync("alerts", "quiet", "--cancel", id, "--by", "Ann", "--reason", "done")) switch { var ran => (ran.Status, ran.Out) });
        await _bench.OnceAsync();
        Assert.Single(_bench.Channel.Reached);
        Assert.Equal((1, $"No quiet time that still runs has an id that begins {id}.\n"),
            (await RunAsync("alerts", "quiet", "--cancel", id, "--by", "Ann", "--reason", "again")) switch { var ran => (ran.Status, ran.Errors) });
    }

    [Fact]
    public async Task A_quiet_time_that_waits_to_be_kept_when_a_run_begins_holds_in_that_run()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        new AskBox(_bench.StoreFolder).Put(new AlertAsk
        {
            Id = AskBox.NewId(_bench.Clock.GetUtcNow()),
            Quiet = new StoredQuiet
            {
                Id = "q",
                AtUtc = _bench.Clock.GetUtcNow(),
                Machine = "mill-3",
                UntilUtc = _bench.Clock.GetUtcNow().AddHours(1),
                By = "Lee",
                Reason = "warming up",
            },
        });
        await _bench.OnceAsync();
        Assert.Empty(_bench.Channel.Reached);
    }

    [Theory]
    [InlineData("--machine mill-3 --until 2026-03-02T08:00 --by Lee", "--reason is missing: who asks for quiet, and why, is recorded.")]
    [InlineData("--machine mill-3 --by Lee --reason x", "Give --machine and --until, or --cancel, each with --by and --reason; or --list alone.")]
    [InlineData("--machine mill-3 --until 2026-03-02T06:00 --by Lee --reason x", "--until: 2026-03-02T06:00:00Z is over; give a moment to come.")]
    [InlineData("--machine mill-9 --until 2026-03-03 --by Lee --reason x", "--machine: the configuration has no machine mill-9; it has mill-3, mill-4.")]
    public async Task A_quiet_time_that_cannot_be_is_refused(string arguments, string fault)
    {
        await _bench.BeginAsync();
        var (status, _, errors) = await RunAsync(["alerts", "quiet", .. arguments.Split(' ')]);
        Assert.Equal((2, fault), (status, errors.Split('\n')[0]));
    }

    [Fact]
    public async Task What_was_given_up_is_sent_again_when_a_person_asks_and_under_its_id()
    {
        _bench.Alerts = $"\"Severity\": \"high\", \"Files\": {{ \"Folder\": \"out\" }}";
        var real = AlertChannels.Of(_bench.Options().Shop.Alerts, _bench.Clock)[0];
        _bench.Channel.Rename(real.Name, real.To);
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        _bench.Channel.Answers.Enqueue(new SendResult(SendOutcome.Permanent, "no room"));
        await _bench.OnceAsync();
        Assert.Equal("failed", Text(await ListAsync(), "status"));

        Assert.Equal((0, "1 message is put up again.\n"),
            (await RunAsync("alerts", "resend", "--dead")) switch { var ran => (ran.Status, ran.Out) });
        Assert.Equal("waiting", Text(await ListAsync(), "status"));
        Assert.Equal(new SendCount(1, 0, 0), (await _bench.OnceAsync()).Sent);
        Assert.Single(_bench.Channel.Reached.Select(message => message.Id).Distinct());
        var (status, _, errors) = await RunAsync("alerts", "resend", "--dead");
        Assert.Equal((1, true), (status, errors.EndsWith("No message is on the dead list.\n", StringComparison.Ordinal)));
        Assert.Equal(0, (await RunAsync("alerts", "resend", "mill-3@20260302-070900")).Status);
        Assert.Equal(2, (await RunAsync("alerts", "resend")).Status);
    }

    [Fact]
    public async Task Every_word_about_an_alert_is_in_a_table_that_the_record_covers()
    {
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        Assert.Equal(0, (await RunAsync("verify")).Status);
    }

    [Fact]
    public async Task A_stop_that_nobody_answers_is_told_again_but_not_for_ever()
    {
        _bench.Rules = "\"axis-not-set\": \"off\", \"over-limit\": \"stop\"";
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        var (sent, now) = (new List<int>(), 0);
        foreach (var hour in new[] { 3, 4, 11, 12, 27, 28, 50, 100 })
        {
            _bench.Pass(60 * (hour - now));
            now = hour;
            if ((await _bench.SendOnceAsync()).Sent > 0) sent.Add(hour);
        }
        Assert.Equal([4, 12, 28], sent);
        Assert.Equal([AlertKind.Raised, AlertKind.Reminder, AlertKind.Reminder, AlertKind.Reminder],
            _bench.Channel.Reached.Select(message => message.Kind));
        Assert.Equal(4, _bench.Channel.Reached.Select(message => message.Id).Distinct().Count());

        var row = await ListAsync();
        Assert.Equal(("sent", "raised reminder reminder reminder"),
            (Text(row, "status"), string.Join(' ', row.GetProperty("messages").EnumerateArray().Select(sent => Text(sent, "kind")))));
        Assert.Equal(0, (await RunAsync("verify")).Status);
    }

    [Fact]
    public async Task Each_stop_is_told_again_as_often_whatever_was_told_of_another_setup_before()
    {
        _bench.Rules = "\"axis-not-set\": \"off\", \"over-limit\": \"stop\"";
        await _bench.BeginAsync();
        _bench.Dump(-305m);
        await _bench.OnceAsync();
        foreach (var hours in new[] { 4, 8, 16 }) await PassAndSendAsync(hours);
        _bench.Dump(-300m, _bench.Clock.GetUtcNow());
        _bench.Pass(10);
        await _bench.OnceAsync();
        var before = _bench.Channel.Reached.Count(message => message.Kind == AlertKind.Reminder);
        Assert.Equal(3, before);

        foreach (var hours in new[] { 4, 8, 16, 32, 64 }) await PassAndSendAsync(hours);
        var after = _bench.Channel.Reached.Where(message => message.Kind == AlertKind.Reminder).ToList();
        Assert.Equal(6, after.Count);
        Assert.Equal(6, after.Select(message => message.Id).Distinct().Count());
    }

    [Fact]
    public async Task Many_reminders_at_once_share_one_message()
    {
        _bench.Rules = "\"axis-not-set\": \"off\", \"over-limit\": \"stop\"";
        _bench.Alerts = "\"Most\": 2";
        await _bench.BeginAsync();
        for (var dump = 0; dump < 5; dump++) _bench.Dump(dump % 2 == 0 ? -305m : -300m, _bench.Clock.GetUtcNow().AddHours(2 * dump - 24));
        _bench.Pass(60);
        await _bench.OnceAsync();
        var told = _bench.Channel.Reached.SelectMany(message => message.Findings)
            .Where(finding => finding.Severity == Severity.Stop).Select(finding => finding.Id).ToHashSet();
        Assert.Equal(5, told.Count);
        await PassAndSendAsync(5);
        var reminders = _bench.Channel.Reached.Where(message => message.Kind == AlertKind.Reminder).ToList();
        Assert.Equal(2, reminders.Count);
        Assert.Equal(told, [.. reminders.SelectMany(message => message.Findings.Select(finding => finding.Id))]);
    }

    private async Task PassAndSendAsync(int hours)
    {
        _bench.Pass(60 * hours);
        await _bench.SendOnceAsync();
    }
}
