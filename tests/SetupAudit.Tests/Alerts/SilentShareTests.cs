using System.Text;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>A share that is gone makes every source on it silent: one message a share, and one when it is back.</summary>
public sealed class SilentShareTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private static readonly ShareNames Shares = new(Shop(), folder =>
        folder.Contains("/mnt/", StringComparison.Ordinal) ? "/mnt/hall-2" : null);

    private long _seq;

    [Fact]
    public void Two_dead_shares_are_two_messages_each_of_its_share_and_its_machines()
    {
        var plan = Plan([Silent("mill-1", "hall-1-mill-1"), Silent("mill-3", "-mnt-hall-2-mill-3"), Silent("mill-2", "hall-1-mill-2")], []);

        Assert.Equal([("/mnt/hall-2", "mill-3"), ("hall-1", "mill-1, mill-2")],
            plan.Messages.Select(message => (message.Share ?? "", string.Join(", ", message.Tells.Select(alert => alert.Machine)))));
        Assert.Equal(["share /mnt/hall-2", "share hall-1"], plan.Messages.Select(message => message.Thread));
    }

    [Fact]
    public void One_that_comes_back_is_one_message_and_the_other_says_nothing()
    {
        var (one, two, three) = (Silent("mill-1", "hall-1-mill-1"), Silent("mill-2", "hall-1-mill-2"), Silent("mill-3", "-mnt-hall-2-mill-3"));
        var plan = Plan([Back(one), Back(two)], [one, two, three]);

        var cleared = Assert.Single(plan.Messages);
        Assert.Equal((AlertKind.Cleared, "hall-1", 2), (cleared.Kind, cleared.Share, cleared.Tells.Count));
    }

    [Fact]
    public void More_sources_of_a_share_that_was_told_wait_and_are_told_should_they_stay_silent_when_it_is_back()
    {
        var (one, two) = (Silent("mill-1", "hall-1-mill-1"), Silent("mill-2", "hall-1-mill-2"));
        var held = Plan([two], [one]);
        Assert.Empty(held.Messages);
        Assert.Empty(held.NotTold);

        var both = Assert.Single(Plan([two, Back(one)], [one]).Messages);
        Assert.Equal([AlertStep.Raised, AlertStep.Withdrawn], both.Tells.Select(alert => alert.Step));

        var all = Plan([two, Back(one), Back(two)], [one]);
        Assert.Equal(["mill-1"], Assert.Single(all.Messages).Tells.Select(alert => alert.Machine));
        Assert.Equal(["it cleared before it was sent", "it cleared before it was sent"], all.NotTold.Select(told => told.WhyNot ?? ""));
    }

    [Fact]
    public void They_wait_half_a_minute_for_each_other()
    {
        Assert.Empty(Plan([Silent("mill-1", "hall-1-mill-1"), Silent("mill-2", "hall-1-mill-2", secondsAgo: 29)], []).Messages);
        Assert.Single(Plan([Silent("mill-1", "hall-1-mill-1"), Silent("mill-2", "hall-1-mill-2", secondsAgo: 30)], []).Messages);
    }

    [Fact]
    public void A_share_is_a_mount_a_server_or_the_folder_that_holds_what_is_watched()
    {
        Assert.Equal("hall-1", Shares.Of("mill-1", "silent-source", "mill-1@20260302-060000/silent-source/hall-1-mill-1"));
        Assert.Equal("/mnt/hall-2", Shares.Of("mill-3", "silent-source", "mill-3@20260302-060000/silent-source/-mnt-hall-2-mill-3"));
        Assert.Equal("alone", Shares.Of("mill-4", "silent-source", "mill-4@20260302-060000/silent-source/alone"));
        Assert.Equal("files.example.com", Shares.Of("mill-5", "silent-source", "mill-5@20260302-060000/silent-source/sftp:--audit@files.example.com-mill-5"));
        Assert.Null(Shares.Of("mill-1", "over-limit", "mill-1@20260302-060000/over-limit/G54.Z"));
    }

    private StoredAlert Silent(string machine, string source, int secondsAgo = 60) => new()
    {
        Seq = ++_seq,
        AtUtc = Now.AddSeconds(-secondsAgo),
        Machine = machine,
        Finding = $"{machine}@20260302-060000/silent-source/{source}",
        Rule = "silent-source",
        Severity = Severity.Low,
        HeldUtc = Now.AddHours(-1),
        Step = AlertStep.Raised,
    };

    private StoredAlert Back(StoredAlert alert) => alert with { Seq = ++_seq, Step = AlertStep.Withdrawn };

    private static AlertPlan Plan(IReadOnlyList<StoredAlert> pending, IReadOnlyList<StoredAlert> told)
    {
        var standings = told.Select(alert => new StandingAlert
        {
            Machine = alert.Machine,
            Finding = alert.Finding,
            Rule = alert.Rule,
            Severity = alert.Severity,
            HeldUtc = alert.HeldUtc,
            Step = AlertStep.Raised,
            ToldUtc = Now.AddMinutes(-30),
        }).ToList();
        return AlertPlan.Of(new AlertPlan.Standing
        {
            Pending = pending,
            Told = alert => standings.Find(one => one.Finding == alert.Finding),
            Standings = standings,
            ShareOf = Shares.Of,
            Quiets = new QuietTimes([]),
            Recent = [],
        }, new AlertPacing(), Now, isLast: false);
    }

    private static ShopConfig Shop()
    {
        const string text = """
            {
              "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
              "Store": { "Folder": "audit" },
              "Machines": {
                "mill-1": { "Kind": "mill", "Units": "mm", "Watch": [ { "Folder": "hall-1/mill-1", "Files": "*.nc", "Read": "data-setting" } ] },
                "mill-2": { "Kind": "mill", "Units": "mm", "Watch": [ { "Folder": "hall-1/mill-2", "Files": "*.nc", "Read": "data-setting" } ] },
                "mill-3": { "Kind": "mill", "Units": "mm", "Watch": [ { "Folder": "/mnt/hall-2/mill-3", "Files": "*.nc", "Read": "data-setting" } ] },
                "mill-4": { "Kind": "mill", "Units": "mm", "Watch": [ { "Folder": "alone", "Files": "*.nc", "Read": "data-setting" } ] },
                "mill-5": { "Kind": "mill", "Units": "mm", "Watch": [ { "Folder": "sftp://audit@files.example.com/mill-5", "Files": "*.nc",
                  "Read": "data-setting", "PasswordFile": "secret",
                  "HostKey": "SHA256:AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA" } ] }
              }
            }
            """;
        var result = ShopConfigReader.Read(Encoding.UTF8.GetBytes(text), "/shop");
        Assert.Empty(result.Faults);
        return result.Config ?? throw new InvalidOperationException("no configuration");
    }
}
