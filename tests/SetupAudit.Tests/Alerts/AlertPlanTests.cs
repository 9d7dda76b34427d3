using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>Which messages are put up, out of what happened and what was told.</summary>
public sealed class AlertPlanTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);
    private long _seq;

    private StoredAlert Alert(AlertStep step, string what = "a", int setup = 1, Severity severity = Severity.High,
        string rule = "over-limit", string machine = "mill-3", int secondsAgo = 10) => new()
        {
            Seq = ++_seq,
            AtUtc = Now.AddSeconds(-secondsAgo),
            Machine = machine,
            Finding = $"{machine}@{setup}/{rule}/{what}",
            Setup = rule == "silent-source" ? null : $"{machine}@{setup}",
            Rule = rule,
            Severity = severity,
            HeldUtc = Now,
            Step = step,
        };

    private static StandingAlert Told(StoredAlert alert, AlertStep step, Severity severity = Severity.High) => new()
    {
        Machine = alert.Machine,
        Finding = alert.Finding,
        Setup = alert.Setup,
        Rule = alert.Rule,
        HeldUtc = alert.HeldUtc,
        Severity = severity,
        Step = step,
        ToldUtc = Now.AddHours(-1),
    };

    private static AlertPlan Plan(IReadOnlyList<StoredAlert> pending, StandingAlert? told = null, int recent = 0,
        AlertPacing? pacing = null, IReadOnlyList<StoredQuiet>? quiets = null, DateTimeOffset? digest = null,
        DateTimeOffset? recentAt = null) =>
        AlertPlan.Of(new AlertPlan.Standing
        {
            Pending = pending,
            Told = alert => alert.Finding == told?.Finding ? told : null,
            Quiets = new QuietTimes(quiets ?? []),
            Recent = [.. Enumerable.Repeat(recentAt ?? Now.AddMinutes(-1), recent)],
            LastDigestUtc = digest,
        }, pacing ?? new AlertPacing(), Now, isLast: false);

    [Fact]
    public void Findings_of_one_setup_go_in_one_message()
    {
        var plan = Plan([Alert(AlertStep.Raised), Alert(AlertStep.Raised, "b"), Alert(AlertStep.Raised, setup: 2)]);
        Assert.Equal([2, 1], plan.Messages.Select(message => message.Tells.Count));
        Assert.Empty(plan.NotTold);
    }

    [Fact]
    public void A_finding_waits_a_moment_for_others()
    {
        Assert.Empty(Plan([Alert(AlertStep.Raised, secondsAgo: 0)]).Messages);
        Assert.Single(Plan([Alert(AlertStep.Raised, secondsAgo: 1)]).Messages);
    }

    [Fact]
    public void What_clears_before_it_was_sent_is_not_sent()
    {
        var plan = Plan([Alert(AlertStep.Raised), Alert(AlertStep.Withdrawn)]);
        Assert.Empty(plan.Messages);
        Assert.Equal([(1L, "it cleared before it was sent"), (2L, "it cleared before it was sent")],
            plan.NotTold.Select(told => (told.Alert, told.WhyNot ?? "")));
    }

    [Fact]
    public void What_was_sent_and_clears_is_sent_once_as_cleared()
    {
        var cleared = Alert(AlertStep.Withdrawn);
        Assert.Equal(AlertKind.Cleared, Assert.Single(Plan([cleared], Told(cleared, AlertStep.Raised)).Messages).Kind);
    }

    [Fact]
    public void What_is_raised_again_sends_nothing_new_unless_cleared_was_sent()
    {
        var cleared = Alert(AlertStep.Withdrawn);
        var again = Alert(AlertStep.Raised);
        var plan = Plan([cleared, again], Told(again, AlertStep.Raised));
        Assert.Empty(plan.Messages);
        Assert.Equal(["it came back before it was sent that it had cleared", "it was sent before, and nothing was sent that it had cleared"],
            plan.NotTold.Select(told => told.WhyNot ?? ""));
        Assert.Single(Plan([again], Told(again, AlertStep.Withdrawn)).Messages);
    }

    [Fact]
    public void What_gets_worse_after_it_was_sent_is_sent_anew()
    {
        var worse = Alert(AlertStep.Risen, severity: Severity.Stop);
        Assert.Equal(Severity.Stop, Assert.Single(Plan([worse], Told(worse, AlertStep.Raised)).Messages).Severity);
        Assert.Empty(Plan([worse], Told(worse, AlertStep.Raised, Severity.Stop)).Messages);
    }

    [Fact]
    public void A_quiet_machine_waits_and_nothing_of_it_is_lost()
    {
        var quiet = new StoredQuiet { Id = "q", AtUtc = Now.AddMinutes(-5), Machine = "mill-3", UntilUtc = Now.AddMinutes(5), By = "Lee", Reason = "warm-up" };
        IReadOnlyList<StoredAlert> pending = [Alert(AlertStep.Raised), Alert(AlertStep.Raised, machine: "mill-4")];
        Assert.Equal("mill-4", Assert.Single(Plan(pending, quiets: [quiet]).Messages).Tells[0].Machine);
        Assert.Empty(Plan(pending, quiets: [quiet with { Machine = "*" }]).Messages);
        Assert.Equal(2, Plan(pending, quiets: [quiet, quiet with { Id = "e", Cancels = "q" }]).Messages.Count);
        Assert.Equal(2, Plan(pending, quiets: [quiet with { UntilUtc = Now }]).Messages.Count);
    }

    [Fact]
    public void A_thousand_setups_at_once_are_few_messages_and_none_is_lost()
    {
        var pending = Enumerable.Range(1, 1000).Select(setup =>
            Alert(AlertStep.Raised, setup: setup, severity: setup == 900 ? Severity.Stop : Severity.High)).ToList();
        var plan = Plan(pending);
        Assert.Equal(11, plan.Messages.Count);
        Assert.Equal("mill-3@900", plan.Messages[0].Tells[0].Setup);
        Assert.Equal((AlertKind.Digest, 990), (plan.Messages[^1].Kind, plan.Messages[^1].Tells.Count));
        Assert.Equal(pending.Select(alert => alert.Seq), plan.Messages.SelectMany(message => message.Tells).Select(alert => alert.Seq).Order());
    }

    [Fact]
    public void Beyond_the_cap_one_message_a_minute_carries_the_rest()
    {
        IReadOnlyList<StoredAlert> pending = [Alert(AlertStep.Raised), Alert(AlertStep.Raised, setup: 2)];
        Assert.Equal(AlertKind.Digest, Assert.Single(Plan(pending, recent: 10).Messages).Kind);
        Assert.Empty(Plan(pending, recent: 10, digest: Now.AddSeconds(-59)).Messages);
        Assert.Single(Plan(pending, recent: 10, digest: Now.AddSeconds(-60)).Messages);
        Assert.Equal(2, Plan(pending, recent: 8).Messages.Count);
    }

    [Fact]
    public void A_message_has_the_same_id_however_often_it_is_planned_and_another_for_another_word()
    {
        IReadOnlyList<StoredAlert> pending = [Alert(AlertStep.Raised), Alert(AlertStep.Raised, "b")];
        Assert.Equal(Plan(pending).Messages[0].Id, Plan([.. pending.Reverse()]).Messages[0].Id);
        Assert.NotEqual(Plan(pending).Messages[0].Id, Plan([Alert(AlertStep.Raised)]).Messages[0].Id);
    }

    [Fact]
    public void What_holds_goes_before_what_cleared_and_decides_how_grave_a_message_is()
    {
        var cleared = Alert(AlertStep.Withdrawn, severity: Severity.Stop);
        var message = Assert.Single(Plan([cleared, Alert(AlertStep.Raised, "b")], Told(cleared, AlertStep.Raised)).Messages);
        Assert.Equal((AlertKind.Raised, Severity.High), (message.Kind, message.Severity));
        Assert.Equal([AlertStep.Raised, AlertStep.Withdrawn], message.Tells.Select(alert => alert.Step));

        var other = Alert(AlertStep.Withdrawn, setup: 2, severity: Severity.Stop);
        var plan = Plan([other, Alert(AlertStep.Raised, setup: 3)], Told(other, AlertStep.Raised), recent: 9);
        Assert.Equal([AlertKind.Raised, AlertKind.Digest], plan.Messages.Select(draft => draft.Kind));
        Assert.True(plan.Messages[1].IsAllCleared);
    }

    [Fact]
    public void A_clock_that_is_put_back_makes_nothing_wait_for_the_hour_to_come_again()
    {
        Assert.Single(Plan([Alert(AlertStep.Raised, secondsAgo: -3600)]).Messages);
        IReadOnlyList<StoredAlert> pending = [Alert(AlertStep.Raised), Alert(AlertStep.Raised, setup: 2)];
        Assert.Single(Plan(pending, recent: 10, digest: Now.AddHours(1)).Messages);
        Assert.Equal(2, Plan(pending, recent: 10, recentAt: Now.AddHours(1)).Messages.Count);

        var word = new StoredSending
        {
            AtUtc = Now.AddHours(1),
            Message = "m",
            Channel = "files",
            Receiver = "to",
            Try = 1,
            Outcome = SendingOutcome.Temporary,
            Reason = "away",
            NextUtc = Now.AddHours(1).AddSeconds(5),
            Configuration = "",
        };
        var message = new StoredMessage { Id = "m", AtUtc = Now, Kind = "raised", Thread = "", Machine = "", Severity = Severity.High, Body = "" };
        Assert.True(new Waiting(message, word, Now).IsDue(Now));
        Assert.False(new Waiting(message, word with { AtUtc = Now.AddSeconds(-1), NextUtc = Now.AddSeconds(4) }, Now).IsDue(Now));

        var quiet = new StoredQuiet { Id = "q", AtUtc = Now.AddHours(1), Machine = "*", UntilUtc = Now.AddHours(2), By = "Lee", Reason = "x" };
        Assert.NotNull(new QuietTimes([quiet]).Of("mill-3", Now));
    }

    [Theory]
    [InlineData(1, 5)]
    [InlineData(2, 15)]
    [InlineData(3, 45)]
    [InlineData(4, 135)]
    [InlineData(6, 1215)]
    [InlineData(7, 1800)]
    [InlineData(500, 1800)]
    public void Tries_come_slower_each_time_up_to_half_an_hour(int tries, int seconds)
    {
        foreach (var message in Enumerable.Range(0, 100).Select(number => $"message-{number}"))
            Assert.InRange(RetryTimes.After(tries, message, "to", null).TotalSeconds, seconds, seconds * 1.1);
        Assert.Equal(RetryTimes.After(tries, "m", "to", null), RetryTimes.After(tries, "m", "to", null));
        Assert.NotEqual(RetryTimes.After(tries, "m", "to", null), RetryTimes.After(tries, "n", "to", null));
    }

    [Fact]
    public void A_receiver_that_asks_for_peace_gets_it_but_not_for_ever()
    {
        Assert.Equal(TimeSpan.FromMinutes(2), RetryTimes.After(1, "m", "to", TimeSpan.FromMinutes(2)));
        Assert.InRange(RetryTimes.After(1, "m", "to", TimeSpan.FromSeconds(1)).TotalSeconds, 5, 5.5);
        Assert.Equal(TimeSpan.FromHours(24), RetryTimes.After(1, "m", "to", TimeSpan.FromDays(400)));
    }
}
