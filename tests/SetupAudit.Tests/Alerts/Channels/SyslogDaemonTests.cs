using SetupAudit.Alerts.Support;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>What a syslog daemon that is not ours reads out of our messages.</summary>
public sealed class SyslogDaemonTests
{
    [Theory]
    [InlineData(SyslogProtocol.Udp)]
    [InlineData(SyslogProtocol.Tcp)]
    public async Task A_daemon_of_the_system_reads_every_part_and_no_text_makes_two_messages(SyslogProtocol protocol)
    {
        using var daemon = new SyslogDaemon();
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromMinutes(1));
        await daemon.ReadyAsync(patience.Token);
        var channel = new SyslogChannel(
            new SyslogConfig { Host = "127.0.0.1", Port = daemon.Port, Protocol = protocol }, TimeProvider.System);
        List<AlertMessage> messages = [SomeAlert.Raised, .. HostileText.All.Select(row => SomeAlert.Saying(row.Data))];
        foreach (var message in messages)
            Assert.Equal(SendOutcome.SentUnconfirmed, (await channel.SendAsync(message, patience.Token)).Outcome);

        var read = await daemon.ReadAsync(messages.Count, patience.Token);

        Assert.Equal(messages.Count, read.Count);
        foreach (var entry in read)
        {
            Assert.Equal("130", entry.GetProperty("pri").GetString());
            Assert.Equal("2026-03-02T07:14:25Z", entry.GetProperty("timereported").GetString());
            Assert.Equal("setupaudit", entry.GetProperty("app-name").GetString());
            Assert.Equal("RAISED", entry.GetProperty("msgid").GetString());
            Assert.Matches("^\\[alert@32473 id=\"(?s:.)*\"\\]$", entry.GetProperty("structured-data").GetString() ?? "");
            Assert.Contains("This message is ", entry.GetProperty("msg").GetString());
        }
        Assert.Contains("machine=\"mill-3\"", read[0].GetProperty("structured-data").GetString());
        Assert.Contains(VisibleText.Of("12 <0>1 - - - - - - forged"), read[15].GetProperty("msg").GetString());
    }
}
