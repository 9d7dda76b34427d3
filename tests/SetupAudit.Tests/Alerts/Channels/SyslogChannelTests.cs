using System.Text;
using System.Text.RegularExpressions;
using SetupAudit.Alerts.Support;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Alerts.Channels;

public sealed class SyslogChannelTests
{
    private static readonly Regex Whole = new(
        "^<(?<pri>[0-9]{1,3})>1 (?<time>[-0-9:.TZ]+) (?<host>[!-~]+) setupaudit (?<pid>[0-9]+) (?<kind>[A-Z]+) "
        + "\\[alert@(?<number>[0-9]+)(?: [a-z]+=\"(?:[^\"\\\\\\]]|\\\\[\"\\\\\\]])*\")*\\] \uFEFF(?<text>.*)$",
        RegexOptions.NonBacktracking);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task By_packet_it_arrives_whole_and_unconfirmed()
    {
        using var receiver = SyslogReceiver.Udp();
        var arrived = receiver.NextAsync(Token);
        var result = await SendAsync(receiver, SyslogProtocol.Udp, SomeAlert.Raised);
        Assert.Equal(SendOutcome.SentUnconfirmed, result.Outcome);
        Assert.Equal("Sent as a packet; syslog has no way to say that it arrived.", result.Reason);
        var entry = Read(Assert.Single(await arrived));
        Assert.Equal("130", entry.Groups["pri"].Value);
        Assert.Equal("2026-03-02T07:14:25Z", entry.Groups["time"].Value);
        Assert.Equal("RAISED", entry.Groups["kind"].Value);
        Assert.Matches(
            "^This message is [0-9]+ days [0-9]+ h late: .* \\| mill-3, setup mill-3@20260302-071000: 2 findings",
            entry.Groups["text"].Value);
        Assert.Contains("by +3.010 mm; its limit is 0.5 mm.", entry.Groups["text"].Value);
    }

    [Fact]
    public async Task By_TCP_it_is_one_counted_frame()
    {
        using var receiver = SyslogReceiver.Tcp();
        var arrived = receiver.NextAsync(Token);
        var result = await SendAsync(receiver, SyslogProtocol.Tcp, SomeAlert.Raised);
        Assert.Equal(SendOutcome.SentUnconfirmed, result.Outcome);
        Read(Assert.Single(await arrived));
    }

    [Fact]
    public async Task By_TLS_it_arrives_where_the_certificate_is_trusted_and_only_there()
    {
        using var share = new TempShare();
        using var receiver = SyslogReceiver.Tls(HouseCertificates.ForLocalhost);
        var arrived = receiver.NextAsync(Token);
        var root = share.Write("house.pem", HouseCertificates.RootPem);
        var result = await SendAsync(receiver, SyslogProtocol.Tls, SomeAlert.Raised, root);
        Assert.Equal(SendOutcome.SentUnconfirmed, result.Outcome);
        Read(Assert.Single(await arrived));

        var refused = receiver.NextAsync(Token);
        var untrusted = await SendAsync(receiver, SyslogProtocol.Tls, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, untrusted.Outcome);
        Assert.Contains("nobody whom this computer trusts", untrusted.Reason);
        Assert.Empty(await NothingAsync(refused));
    }

    [Fact]
    public async Task By_TLS_a_certificate_for_another_name_is_final_and_one_out_of_date_may_be_renewed()
    {
        using var share = new TempShare();
        var root = share.Write("house.pem", HouseCertificates.RootPem);
        foreach (var (certificate, outcome) in new[]
        {
            (HouseCertificates.ForElsewhere, SendOutcome.Final), (HouseCertificates.OutOfDate, SendOutcome.Temporary),
        })
        {
            using var receiver = SyslogReceiver.Tls(certificate);
            var refused = receiver.NextAsync(Token);
            Assert.Equal(outcome, (await SendAsync(receiver, SyslogProtocol.Tls, SomeAlert.Raised, root)).Outcome);
            Assert.Empty(await NothingAsync(refused));
        }
    }

    [Theory]
    [InlineData(SyslogProtocol.Udp)]
    [InlineData(SyslogProtocol.Tcp)]
    [InlineData(SyslogProtocol.Tls)]
    public async Task Nobody_there_is_tried_again(SyslogProtocol protocol)
    {
        using var receiver = SyslogReceiver.Udp();
        var port = receiver.Port;
        receiver.Dispose();
        var config = new SyslogConfig { Host = "127.0.0.1", Port = port, Protocol = protocol };
        var result = await Channel(config).SendAsync(SomeAlert.Raised, Token);
        Assert.Equal(SendOutcome.Temporary, result.Outcome);
    }

    [Fact]
    public async Task A_receiver_that_says_nothing_in_the_handshake_is_left_after_20_seconds()
    {
        using var silent = new SilentReceiver();
        var clock = new HandClock();
        var config = new SyslogConfig { Host = "127.0.0.1", Port = silent.Port, Protocol = SyslogProtocol.Tls };
        var sending = new SyslogChannel(config, clock).SendAsync(SomeAlert.Raised, Token);
        using var connection = await silent.AcceptAsync(Token);
        clock.Advance(21);
        Assert.Equal(SendOutcome.Temporary, (await sending).Outcome);
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task Whatever_a_share_says_it_is_one_well_formed_message_of_2048_octets_at_most(string text)
    {
        using var receiver = SyslogReceiver.Udp();
        var arrived = receiver.NextAsync(Token);
        await SendAsync(receiver, SyslogProtocol.Udp, SomeAlert.Saying(text));
        var packet = Assert.Single(await arrived);
        Assert.InRange(packet.Length, 100, 2048);
        HostileText.Shows(Read(packet).Groups["text"].Value);
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task Whatever_a_share_says_it_is_one_frame(string text)
    {
        using var receiver = SyslogReceiver.Tcp();
        var arrived = receiver.NextAsync(Token);
        await SendAsync(receiver, SyslogProtocol.Tcp, SomeAlert.Saying(text));
        Read(Assert.Single(await arrived));
    }

    [Theory]
    [InlineData(AlertKind.Raised, Severity.Stop, 16 * 8 + 2)]
    [InlineData(AlertKind.Raised, Severity.High, 16 * 8 + 3)]
    [InlineData(AlertKind.Digest, Severity.Low, 16 * 8 + 4)]
    [InlineData(AlertKind.Reminder, Severity.Note, 16 * 8 + 5)]
    [InlineData(AlertKind.Cleared, Severity.Stop, 16 * 8 + 5)]
    [InlineData(AlertKind.Test, Severity.Note, 16 * 8 + 6)]
    public void How_grave_it_is_shows_in_its_priority(AlertKind kind, Severity severity, int priority)
    {
        var entry = new SyslogWriter(new SyslogConfig { Host = "log", Port = 514 }, "host", 1)
            .Of(SomeAlert.Raised with { Kind = kind, Severity = severity }, SomeAlert.QueuedUtc);
        Assert.Equal(priority, entry.Facility * 8 + entry.Severity);
    }

    [Fact]
    public void A_message_reads_so()
    {
        var config = new SyslogConfig { Host = "log", Port = 514, Facility = 20, EnterpriseNumber = 64512 };
        var entry = new SyslogWriter(config, "audit-pc", 4711).Of(SomeAlert.Raised, SomeAlert.QueuedUtc);
        Snapshot.Holds(Encoding.UTF8.GetString(SyslogFormat.Of(entry, SyslogChannel.PacketMostOctets)));
    }

    // By the version of TLS the receiver learns of the refusal in the handshake or only when it reads.
    private static async Task<IReadOnlyList<byte[]>> NothingAsync(Task<IReadOnlyList<byte[]>> refused)
    {
        try
        {
            return await refused;
        }
        catch (Exception fault) when (fault is IOException or System.Security.Authentication.AuthenticationException)
        {
            return [];
        }
    }

    private static Match Read(byte[] entry)
    {
        var text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(entry);
        var match = Whole.Match(text);
        Assert.True(match.Success, text);
        return match;
    }

    private static Task<SendResult> SendAsync(
        SyslogReceiver receiver, SyslogProtocol protocol, AlertMessage message, string? certificateFile = null) =>
        Channel(new SyslogConfig
        {
            Host = protocol == SyslogProtocol.Tls ? "localhost" : "127.0.0.1",
            Port = receiver.Port,
            Protocol = protocol,
            CertificateFile = certificateFile,
        }).SendAsync(message, Token);

    private static IAlertChannel Channel(SyslogConfig config) =>
        Assert.Single(AlertChannels.Of(new AlertsConfig { ReportUrl = "", Syslog = config }, TimeProvider.System));
}
