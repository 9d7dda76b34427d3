using MimeKit;
using SetupAudit.Alerts.Support;
using SetupAudit.Shop;
using SetupAudit.Support;
using SmtpServer.Protocol;

namespace SetupAudit.Alerts.Channels;

public sealed class MailChannelTests : IDisposable
{
    private readonly TempShare _share = new();
    private readonly string _root;
    private readonly string _password;

    public MailChannelTests()
    {
        _root = _share.Write("house.pem", HouseCertificates.RootPem);
        _password = _share.Write("mail.secret", MailReceiver.Password + "\n");
    }

    public void Dispose() => _share.Dispose();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task By_STARTTLS_with_a_user_the_mail_arrives_in_both_forms()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        var result = await SendAsync(Config(receiver), SomeAlert.Raised);

        Assert.Equal(SendOutcome.Sent, result.Outcome);
        var mail = receiver.Only;
        Assert.StartsWith("mill-3 stop: X and Y of G54 were set", mail.Subject);
        Assert.Contains("Do not cut before you have looked.", mail.TextBody);
        Assert.Contains("by +3.010 mm; its limit is 0.5 mm.", mail.TextBody);
        Assert.Contains("<a href=\"http://127.0.0.1:8460/setups/mill-3@20260302-071000\">", mail.HtmlBody);
        Assert.Equal("setters@example.com", Assert.Single(receiver.Receivers));
        Assert.Equal("\"Audit\" <audit@example.com>", Assert.Single(mail.From).ToString());
    }

    [Fact]
    public async Task By_TLS_from_the_first_byte_it_arrives()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, isSecure: true, withUser: true);
        var result = await SendAsync(Config(receiver) with { Security = MailSecurity.Tls }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Sent, result.Outcome);
        Assert.Single(receiver.Mails);
    }

    [Fact]
    public async Task Without_protection_only_when_asked()
    {
        await using var receiver = new MailReceiver();
        var open = Config(receiver) with { Password = null, User = null };
        var refused = await SendAsync(open, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, refused.Outcome);
        Assert.Contains("does not offer what is needed", refused.Reason);
        Assert.Empty(receiver.Mails);

        var sent = await SendAsync(open with { Security = MailSecurity.None }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Sent, sent.Outcome);
    }

    [Fact]
    public async Task An_alert_has_the_same_id_at_each_try_and_a_setup_is_one_thread()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        var other = SomeAlert.Raised with { Id = "another" };
        foreach (var message in (AlertMessage[])[SomeAlert.Raised, SomeAlert.Raised, other])
            await SendAsync(Config(receiver), message);

        var mails = receiver.Mails.ToList();
        Assert.Equal(mails[0].MessageId, mails[1].MessageId);
        Assert.NotEqual(mails[0].MessageId, mails[2].MessageId);
        Assert.EndsWith("@example.com", mails[0].MessageId);
        var thread = Assert.Single(mails.Select(mail => Assert.Single(mail.References)).Distinct());
        Assert.All(mails, mail => Assert.Equal(thread, mail.InReplyTo));
    }

    [Fact]
    public async Task No_absence_note_answers_and_a_stop_is_marked_important()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        await SendAsync(Config(receiver), SomeAlert.Raised);
        await SendAsync(Config(receiver), SomeAlert.Raised with { Severity = Severity.High });

        var mails = receiver.Mails.ToList();
        Assert.All(mails, mail => Assert.Equal("auto-generated", mail.Headers[HeaderId.AutoSubmitted]));
        Assert.Equal([MessageImportance.High, MessageImportance.Normal], mails.Select(mail => mail.Importance));
    }

    [Fact]
    public async Task A_server_whose_certificate_nobody_vouches_for_gets_nothing()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        var result = await SendAsync(Config(receiver) with { CertificateFile = null }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, result.Outcome);
        Assert.Contains("nobody whom this computer trusts vouches for the receiver's certificate", result.Reason);
        Assert.Empty(receiver.Mails);
        Assert.Empty(receiver.Receivers);

        await using var secure = new MailReceiver(HouseCertificates.ForLocalhost, isSecure: true, withUser: true);
        var config = Config(secure) with { CertificateFile = null, Security = MailSecurity.Tls };
        Assert.Equal(SendOutcome.Final, (await SendAsync(config, SomeAlert.Raised)).Outcome);
        Assert.Empty(secure.Mails);
    }

    [Fact]
    public async Task A_certificate_for_another_name_is_final_and_one_out_of_date_may_be_renewed()
    {
        await using var elsewhere = new MailReceiver(HouseCertificates.ForElsewhere, withUser: true);
        var named = await SendAsync(Config(elsewhere), SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, named.Outcome);
        Assert.Contains("made out to another name", named.Reason);

        await using var old = new MailReceiver(HouseCertificates.OutOfDate, isSecure: true);
        var dated = await SendAsync(Config(old) with { Security = MailSecurity.Tls }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Temporary, dated.Outcome);
        Assert.Contains("out of date", dated.Reason);
        Assert.Empty(old.Mails);
    }

    [Fact]
    public async Task A_certificate_that_is_none_of_a_server_is_refused()
    {
        await using var client = new MailReceiver(HouseCertificates.ForClients, isSecure: true);
        var result = await SendAsync(Config(client) with { Security = MailSecurity.Tls }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, result.Outcome);
        Assert.Empty(client.Mails);
    }

    [Fact]
    public async Task A_wrong_password_is_final_and_is_not_told_on()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        _share.Write("mail.secret", "Wrong-Secret-9");
        var result = await SendAsync(Config(receiver), SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, result.Outcome);
        Assert.StartsWith("The mail server did not accept user and password: 535", result.Reason);
        Assert.DoesNotContain("Wrong-Secret-9", result.Reason);
        Assert.DoesNotContain("Wrong-Secret-9", result.ToString());
    }

    [Fact]
    public async Task A_server_that_wants_a_user_where_none_is_configured_is_final()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        var result = await SendAsync(Config(receiver) with { Password = null, User = null }, SomeAlert.Raised);
        Assert.Equal(SendOutcome.Final, result.Outcome);
    }

    [Theory]
    [InlineData(421, SendOutcome.Temporary)]
    [InlineData(450, SendOutcome.Temporary)]
    [InlineData(451, SendOutcome.Temporary)]
    [InlineData(452, SendOutcome.Temporary)]
    [InlineData(530, SendOutcome.Final)]
    [InlineData(550, SendOutcome.Permanent)]
    [InlineData(552, SendOutcome.Permanent)]
    [InlineData(554, SendOutcome.Permanent)]
    public async Task What_the_server_answers_decides(int code, SendOutcome outcome)
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        receiver.ToReceiver = new SmtpResponse((SmtpReplyCode)code, "5.1.1 so it is");
        var atReceiver = await SendAsync(Config(receiver), SomeAlert.Raised);
        Assert.Equal(outcome, atReceiver.Outcome);
        Assert.StartsWith(
            code == 530 ? "The mail server asks for a user and password: " : $"The mail server answered {code}: ",
            atReceiver.Reason);

        receiver.ToReceiver = null;
        receiver.ToData = new SmtpResponse((SmtpReplyCode)code, "so it is");
        Assert.Equal(outcome, (await SendAsync(Config(receiver), SomeAlert.Raised)).Outcome);
        Assert.Empty(receiver.Mails);
    }

    [Fact]
    public async Task Nobody_there_a_secret_not_there_and_a_certificate_file_not_there_are_tried_again()
    {
        await using var receiver = new MailReceiver(HouseCertificates.ForLocalhost, withUser: true);
        var config = Config(receiver);
        var nobody = await SendAsync(config with { Port = 1 }, SomeAlert.Raised);
        var secret = await SendAsync(config with { Password = new SecretSource(_share["none"], null) }, SomeAlert.Raised);
        var variable = await SendAsync(config with { Password = new SecretSource(null, "NO_SUCH_VARIABLE_HERE") }, SomeAlert.Raised);
        var certificate = await SendAsync(config with { CertificateFile = _share["none"] }, SomeAlert.Raised);
        Assert.All([nobody, secret, variable, certificate], result => Assert.Equal(SendOutcome.Temporary, result.Outcome));
        Assert.Contains("The secret cannot be read", secret.Reason);
        Assert.Equal("The environment variable NO_SUCH_VARIABLE_HERE is not set; it should hold the secret.", variable.Reason);
        Assert.StartsWith("CertificateFile cannot be read", certificate.Reason);
    }

    [Fact]
    public async Task A_server_that_never_answers_is_left_after_a_minute()
    {
        using var silent = new SilentReceiver();
        var clock = new HandClock();
        var config = Config(0) with { Port = silent.Port };
        var sending = new MailChannel(config, "setters@example.com", clock).SendAsync(SomeAlert.Raised, Token);
        using var connection = await silent.AcceptAsync(Token);
        clock.Advance(61);
        var result = await sending;
        Assert.Equal(SendOutcome.Temporary, result.Outcome);
        Assert.Equal("No answer within 60 s; it may have arrived all the same.", result.Reason);
    }

    [Fact]
    public async Task A_handshake_that_breaks_off_is_no_refusal_and_is_tried_again()
    {
        using var silent = new SilentReceiver();
        var config = Config(silent.Port) with { Security = MailSecurity.Tls };
        var sending = SendAsync(config, SomeAlert.Raised);
        using (await silent.AcceptAsync(Token))
        {
            // Closed in the midst of it.
        }
        Assert.Equal(SendOutcome.Temporary, (await sending).Outcome);
    }

    [Fact]
    public async Task A_stop_of_the_service_ends_the_try_by_its_token()
    {
        using var silent = new SilentReceiver();
        using var stop = new CancellationTokenSource();
        var config = Config(0) with { Port = silent.Port };
        var sending = new MailChannel(config, "setters@example.com", TimeProvider.System).SendAsync(SomeAlert.Raised, stop.Token);
        using var connection = await silent.AcceptAsync(Token);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => sending);
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task No_text_from_a_share_gets_into_the_headers_or_receivers(string text)
    {
        await using var receiver = new MailReceiver();
        var config = Config(receiver) with { Password = null, User = null, Security = MailSecurity.None };
        await SendAsync(config, SomeAlert.Saying("words"));
        var result = await SendAsync(config, SomeAlert.Saying(text));

        Assert.Equal(SendOutcome.Sent, result.Outcome);
        var (plain, hostile) = (receiver.Mails.First(), receiver.Mails.Last());
        Assert.Equal(plain.Headers.Select(header => header.Field), hostile.Headers.Select(header => header.Field));
        Assert.Equal(["setters@example.com", "setters@example.com"], receiver.Receivers);
        HostileText.Shows(hostile.Subject ?? "");
        Assert.Equal(2, hostile.BodyParts.Count());
        var raw = receiver.Raw.Last();
        Assert.All(raw.Split("\r\n"), line => Assert.InRange(line.Length, 0, 998));
        Assert.DoesNotContain('\0', raw);
        // The head as bytes, read by no library: fields that are known, each in lines of its own.
        var fields = raw[..raw.IndexOf("\r\n\r\n", StringComparison.Ordinal)].Split("\r\n")
            .Where(line => line[0] is not ' ' and not '\t').Select(line => line.Split(':')[0]);
        Assert.Equal(
            "Auto-Submitted,Content-Type,Date,From,Importance,In-Reply-To,MIME-Version,Message-Id,References,"
                + "SetupAudit-Alert,Subject,To",
            string.Join(',', fields.Order(StringComparer.Ordinal)));
        Assert.All(raw.Replace("\r\n", ""), letter => Assert.True(letter is not '\r' and not '\n'));
    }

    [Theory]
    [InlineData("audit@example.com", true)]
    [InlineData("Audit <audit@example.com>", true)]
    [InlineData("Prüfer <prüfer@example.com>", true)]
    [InlineData("audit", false)]
    [InlineData("a@example.com, b@example.com", false)]
    [InlineData("a@example.com\r\nBcc: b@example.com", false)]
    [InlineData("a@example.com>\nRCPT TO:<b@example.com", false)]
    [InlineData("", false)]
    public void An_address_is_one_address(string text, bool isOne) => Assert.Equal(isOne, MailAddress.IsOne(text));

    private MailConfig Config(MailReceiver receiver) => Config(receiver.Port);

    private MailConfig Config(int port) => new()
    {
        Host = "localhost",
        Port = port,
        From = "Audit <audit@example.com>",
        To = ["setters@example.com"],
        User = MailReceiver.User,
        Password = new SecretSource(_password, null),
        CertificateFile = _root,
    };

    private static Task<SendResult> SendAsync(MailConfig config, AlertMessage message) =>
        Assert.Single(AlertChannels.Of(new AlertsConfig { ReportUrl = "", Mail = config }, TimeProvider.System))
            .SendAsync(message, Token);
}
