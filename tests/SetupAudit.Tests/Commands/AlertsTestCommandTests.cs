using System.Text.Json;
using SetupAudit.Alerts.Support;

namespace SetupAudit.Commands;

public sealed class AlertsTestCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_test_goes_by_every_channel_and_what_came_of_each_is_told()
    {
        await using var mail = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        await using var hook = new WebhookReceiver();
        using var log = SyslogReceiver.Tcp();
        var logged = log.NextAsync(CommandBench.Token);
        Configure($$"""
            "Mail": { "Host": "localhost", "Port": {{mail.Port}}, "From": "audit@example.com",
              "To": [ "setters@example.com", "night@example.com" ], "User": "{{MailReceiver.User}}",
              "PasswordFile": "mail.secret", "CertificateFile": "house.pem" },
            "Webhook": { "Url": "{{hook.Url}}", "SecretFile": "hook.secret" },
            "Syslog": { "Host": "localhost", "Port": {{log.Port}} },
            "Files": { "Folder": "drop" }
            """);
        _bench.Write("mail.secret", MailReceiver.Password);
        _bench.Write("house.pem", HouseCertificates.RootPem);
        _bench.Write("hook.secret", "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw");

        var (status, written, errors) = await _bench.RunAsync("alerts", "test");

        Assert.Equal((0, ""), (status, errors));
        Assert.Matches("^mail to setters@example.com: sent. The mail server has it: .*\n"
            + "mail to night@example.com: sent. The mail server has it: .*\n"
            + "webhook to http://localhost:[0-9]+/...: sent. The receiver answered 204: it has the message.\n"
            + "syslog to tcp://localhost:[0-9]+: sent, unconfirmed. Sent; syslog has no way to say that it arrived.\n"
            + "files to drop: sent. Put as [0-9TZ]+-test-[0-9a-f]+.json.\n$", written.ReplaceLineEndings("\n"));
        Assert.All(mail.Mails, one => Assert.Equal("Harrow Lane Works: test of alerts, nothing was found", one.Subject));
        Assert.Equal(2, mail.Mails.Count);
        Assert.Equal("setupaudit.alert.test", JsonElement.Parse(hook.Only.Body).GetProperty("type").GetString());
        Assert.Single(await logged);
        Assert.Single(Directory.GetFiles(_bench["drop"]));
        Assert.False(Directory.Exists(_bench["audit"]));
    }

    [Fact]
    public async Task One_that_does_not_go_ends_with_1_and_no_secret_is_told()
    {
        await using var mail = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        await using var hook = new WebhookReceiver(WebhookReceiver.Status(410, body: "gone"));
        Configure($$"""
            "Mail": { "Host": "localhost", "Port": {{mail.Port}}, "From": "audit@example.com", "To": [ "setters@example.com" ],
              "PasswordFile": "mail.secret", "CertificateFile": "house.pem" },
            "Webhook": { "Url": "{{hook.Url}}", "SecretFile": "hook.secret" },
            "Files": { "Folder": "not/there" }
            """);
        _bench.Write("mail.secret", "Not-The-Password-3");
        _bench.Write("house.pem", HouseCertificates.RootPem);
        _bench.Write("hook.secret", "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw");

        var (status, written, errors) = await _bench.RunAsync("alerts", "test");

        Assert.Equal(1, status);
        Assert.Contains("mail to setters@example.com: not sent, until something is changed. The mail server did not accept user "
            + "and password: 535", written, StringComparison.Ordinal);
        Assert.Contains("not sent, until something is changed. The receiver answered 410: it wants no more messages; nothing is "
            + "sent until Url is changed. It said: gone", written, StringComparison.Ordinal);
        Assert.Contains("files to not/there: not sent, may go later. The folder ", written, StringComparison.Ordinal);
        foreach (var secret in (string[])["Not-The-Password-3", "MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", "in-the-path"])
        {
            Assert.DoesNotContain(secret, written, StringComparison.Ordinal);
            Assert.DoesNotContain(secret, errors, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Without_a_channel_the_configuration_is_at_fault()
    {
        var (status, written, errors) = await _bench.RunAsync("alerts", "test");
        Assert.Equal((2, ""), (status, written));
        Assert.Equal("Alerts names no channel; allowed are Mail, Webhook, Syslog and Files.", errors.Trim());
    }

    [Fact]
    public async Task Check_says_which_channels_would_be_used_and_what_is_missing_and_sends_nothing()
    {
        await using var hook = new WebhookReceiver();
        Configure($$"""
            "Severity": "stop", "Webhook": { "Url": "{{hook.Url}}" },
            "Mail": { "Host": "mail.example", "From": "audit@example.com", "To": [ "setters@example.com" ],
              "PasswordFile": "mail.secret" },
            "Syslog": { "Host": "log", "Protocol": "tls", "CertificateFile": "house.pem" }
            """);

        var (status, written, errors) = await _bench.RunAsync("check");

        Assert.Equal(0, status);
        Assert.Contains("Findings of severity stop and up go by mail to setters@example.com.", written, StringComparison.Ordinal);
        Assert.Contains("Findings of severity stop and up go by syslog to tls://log:6514.", written, StringComparison.Ordinal);
        Assert.Contains("Calls of the webhook are not signed: SecretFile is not given.", written, StringComparison.Ordinal);
        Assert.Contains($"Alerts.Mail.PasswordFile: {_bench["mail.secret"]} is not there; nothing is sent until it is.", errors, StringComparison.Ordinal);
        Assert.Contains($"Alerts.Syslog.CertificateFile: {_bench["house.pem"]} is not there", errors, StringComparison.Ordinal);
        Assert.Empty(hook.Calls);
    }

    [Fact]
    public async Task Check_says_that_alerts_go_nowhere_where_no_channel_is_named()
    {
        Configure("\"Severity\": \"high\"");
        var (_, written, _) = await _bench.RunAsync("check");
        Assert.Contains("Alerts go nowhere: Alerts names no channel.", written, StringComparison.Ordinal);
    }

    private void Configure(string alerts) => _bench.Write("shop.json", $$"""
        {
          "Shop": { "Name": "Harrow Lane Works", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm" } },
          "Alerts": { {{alerts}} }
        }
        """);
}
