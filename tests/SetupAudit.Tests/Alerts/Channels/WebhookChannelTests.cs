using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using SetupAudit.Alerts.Support;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Alerts.Channels;

public sealed class WebhookChannelTests : IDisposable
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    private readonly TempShare _share = new();
    private readonly SecretSource _secret;

    public WebhookChannelTests() => _secret = new SecretSource(_share.Write("hook.secret", Secret + "\n"), null);

    public void Dispose() => _share.Dispose();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    // The vector of the Standard Webhooks libraries (verifyWebhookSignWorks).
    [Fact]
    public void The_published_signature_is_reproduced()
    {
        var key = WebhookSignature.KeyOf(Secret);
        Assert.NotNull(key);
        Assert.Equal(
            "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
            WebhookSignature.Of([key], "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, "{\"test\": 2432232314}"u8));
    }

    [Theory]
    [InlineData("MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", 24)]
    [InlineData(" whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw\r", 24)]
    [InlineData("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLa", null)]
    [InlineData("whsec_not base64!", null)]
    [InlineData("", null)]
    public void A_secret_is_base64_of_24_to_64_bytes(string line, int? length) =>
        Assert.Equal(length, WebhookSignature.KeyOf(line)?.Length);

    [Fact]
    public async Task A_call_is_signed_over_what_arrives_at_the_time_of_the_try()
    {
        await using var receiver = new WebhookReceiver();
        var clock = new HandClock("2026-03-02T07:14:40Z");
        var result = await SendAsync(receiver, clock: clock);

        Assert.Equal(new SendResult(SendOutcome.Sent, "The receiver answered 204: it has the message."), result);
        var call = receiver.Only;
        Assert.Equal("POST /hook?key=in-the-path HTTP/1.1", call.Request);
        Assert.Equal("application/cloudevents+json; charset=utf-8", call.Headers["Content-Type"]);
        Assert.Equal("1772435680", call.Headers["webhook-timestamp"]);
        var signed = Encoding.UTF8.GetBytes($"{call.Headers["webhook-id"]}.{call.Headers["webhook-timestamp"]}.");
        byte[] whole = [.. signed, .. call.Body];
        var expected = HMACSHA256.HashData(Convert.FromBase64String(Secret["whsec_".Length..]), whole);
        Assert.Equal("v1," + Convert.ToBase64String(expected), call.Headers["webhook-signature"]);
    }

    [Fact]
    public async Task The_body_is_a_CloudEvents_event_with_the_id_of_the_call()
    {
        await using var receiver = new WebhookReceiver();
        await SendAsync(receiver);
        var body = JsonElement.Parse(receiver.Only.Body);
        Assert.Equal("1.0", body.GetProperty("specversion").GetString());
        Assert.Equal(receiver.Only.Headers["webhook-id"], body.GetProperty("id").GetString());
        Assert.Equal("/setupaudit/Harrow%20Lane%20Works", body.GetProperty("source").GetString());
        Assert.Equal("setupaudit.alert.raised", body.GetProperty("type").GetString());
        Assert.Equal("mill-3@20260302-071000", body.GetProperty("subject").GetString());
        Assert.Equal("2026-03-02T07:14:25Z", body.GetProperty("time").GetString());
        Assert.Equal("application/json", body.GetProperty("datacontenttype").GetString());
        var data = body.GetProperty("data");
        Assert.Equal("mill-3@20260302-071000/1", data.GetProperty("alert").GetString());
        Assert.Equal("-400.010", data.GetProperty("findings")[1].GetProperty("moves")[0].GetProperty("before").GetRawText());
    }

    [Fact]
    public async Task The_id_is_the_same_at_each_try_and_the_time_is_that_of_the_try()
    {
        await using var receiver = new WebhookReceiver();
        var clock = new HandClock("2026-03-02T07:14:40Z");
        await SendAsync(receiver, clock: clock);
        clock.Advance(15);
        await SendAsync(receiver, clock: clock);
        var calls = receiver.Calls.ToList();
        Assert.Equal(calls[0].Headers["webhook-id"], calls[1].Headers["webhook-id"]);
        Assert.NotEqual(calls[0].Headers["webhook-timestamp"], calls[1].Headers["webhook-timestamp"]);
        Assert.Matches("^alert_[0-9a-f]{32}$", calls[0].Headers["webhook-id"]);
    }

    [Fact]
    public async Task While_one_secret_takes_over_from_another_both_sign()
    {
        await using var receiver = new WebhookReceiver();
        _share.Write("hook.secret", $"{Secret}\n{Convert.ToBase64String(new byte[32])}\n");
        await SendAsync(receiver);
        Assert.Equal(2, receiver.Only.Headers["webhook-signature"].Split(' ').Length);
    }

    [Fact]
    public async Task What_is_no_secret_is_final_and_nothing_is_sent()
    {
        await using var receiver = new WebhookReceiver();
        _share.Write("hook.secret", "only-words");
        var result = await SendAsync(receiver);
        Assert.Equal(SendOutcome.Final, result.Outcome);
        Assert.DoesNotContain("only-words", result.Reason);
        Assert.Empty(receiver.Calls);
    }

    [Fact]
    public async Task Every_status_from_100_to_599_has_its_outcome()
    {
        await using var receiver = new WebhookReceiver();
        for (var status = 100; status <= 599; status++)
        {
            receiver.Answer = WebhookReceiver.Status(status, "Location: http://localhost:1/\r\n");
            var result = await SendAsync(receiver);
            Assert.True(Expected(status) == result.Outcome, $"{status}: {result}");
        }
        Assert.Equal(500, receiver.Calls.Count);
    }

    private static SendOutcome Expected(int status) => status switch
    {
        >= 200 and <= 299 => SendOutcome.Sent,
        410 => SendOutcome.Final,
        408 or 425 or 429 => SendOutcome.Temporary,
        >= 400 and <= 499 => SendOutcome.Permanent,
        _ => SendOutcome.Temporary,
    };

    [Theory]
    [InlineData(429, "Retry-After: 120\r\n", 120)]
    [InlineData(503, "Retry-After: Mon, 02 Mar 2026 07:16:40 GMT\r\n", 120)]
    [InlineData(503, "Retry-After: Mon, 02 Mar 2026 07:00:00 GMT\r\n", 0)]
    [InlineData(502, "Retry-After: 99999999\r\n", 3600)]
    [InlineData(504, "Retry-After: Fri, 31 Dec 9999 23:59:59 GMT\r\n", 3600)]
    [InlineData(504, "Retry-After: soon\r\n", null)]
    [InlineData(500, "", null)]
    [InlineData(400, "Retry-After: 120\r\n", null)]
    public async Task A_receiver_that_asks_to_be_left_alone_is_for_an_hour_at_most(int status, string header, int? seconds)
    {
        await using var receiver = new WebhookReceiver(WebhookReceiver.Status(status, header));
        var result = await SendAsync(receiver, clock: new HandClock("2026-03-02T07:14:40Z"));
        Assert.Equal(seconds, result.RetryAfter?.TotalSeconds);
    }

    [Theory]
    [InlineData("", SendOutcome.Temporary)]
    [InlineData("HTTP/1.1 200 OK\r\nContent-Le", SendOutcome.Temporary)]
    [InlineData("nonsense\r\n\r\n", SendOutcome.Temporary)]
    [InlineData("HTTP/1.1 200 OK\r\nContent-Length: 1000\r\n\r\ncut", SendOutcome.Sent)]
    [InlineData("HTTP/1.1 500 No\r\nContent-Length: 1000\r\n\r\ncut", SendOutcome.Temporary)]
    [InlineData("HTTP/1.1 400 No\r\nTransfer-Encoding: chunked\r\n\r\nzz", SendOutcome.Permanent)]
    public async Task An_answer_that_breaks_off_counts_as_far_as_it_went(string answer, SendOutcome outcome)
    {
        await using var receiver = new WebhookReceiver(answer);
        Assert.Equal(outcome, (await SendAsync(receiver)).Outcome);
    }

    [Fact]
    public async Task Only_the_beginning_of_an_answer_is_read_and_it_is_made_fit_to_show()
    {
        await using var receiver = new WebhookReceiver(
            WebhookReceiver.Status(400, body: "no\r\nsuch \u202E thing " + new string('x', 1_000_000)));
        var result = await SendAsync(receiver);
        Assert.Equal(SendOutcome.Permanent, result.Outcome);
        Assert.Contains("It said: no", result.Reason);
        Assert.InRange(result.Reason.Length, 100, 500);
        HostileText.Shows(result.Reason);
    }

    [Fact]
    public async Task An_answer_with_endless_headers_is_not_read_to_its_end()
    {
        await using var receiver = new WebhookReceiver($"HTTP/1.1 200 OK\r\nX: {new string('x', 1_000_000)}\r\n\r\n");
        Assert.Equal(SendOutcome.Temporary, (await SendAsync(receiver)).Outcome);
    }

    [Theory]
    [InlineData(301)]
    [InlineData(302)]
    [InlineData(307)]
    [InlineData(308)]
    public async Task A_redirect_is_not_followed(int status)
    {
        await using var elsewhere = new WebhookReceiver();
        await using var receiver = new WebhookReceiver(WebhookReceiver.Status(status, $"Location: {elsewhere.Url}\r\n"));
        var result = await SendAsync(receiver);
        Assert.Equal(SendOutcome.Temporary, result.Outcome);
        Assert.Contains("which is not followed", result.Reason);
        Assert.Empty(elsewhere.Calls);
    }

    [Fact]
    public async Task A_receiver_that_stalls_is_left_after_20_seconds()
    {
        await using var receiver = new WebhookReceiver { Answer = null };
        var clock = new HandClock();
        var sending = SendAsync(receiver, clock: clock);
        await receiver.Reached.Task.WaitAsync(Token);
        clock.Advance(21);
        Assert.Equal(
            new SendResult(SendOutcome.Temporary, "No answer within 20 s; it may have arrived all the same."), await sending);
    }

    [Fact]
    public async Task A_handshake_that_breaks_off_is_no_refusal_and_is_tried_again()
    {
        using var silent = new SilentReceiver();
        var config = new WebhookConfig($"https://localhost:{silent.Port}/", _secret, null);
        var sending = Channel(config, TimeProvider.System).SendAsync(SomeAlert.Raised, Token);
        using (await silent.AcceptAsync(Token))
        {
            // Closed in the midst of it.
        }
        var result = await sending;
        Assert.Equal(SendOutcome.Temporary, result.Outcome);
        Assert.StartsWith("No safe connection came about: ", result.Reason);
    }

    [Fact]
    public async Task Nobody_there_is_tried_again()
    {
        var result = await Channel(new WebhookConfig("http://localhost:1/", _secret, null), TimeProvider.System)
            .SendAsync(SomeAlert.Raised, Token);
        Assert.Equal(SendOutcome.Temporary, result.Outcome);
    }

    [Fact]
    public async Task A_certificate_signed_in_the_house_is_trusted_where_it_is_named_and_only_there()
    {
        await using var receiver = new WebhookReceiver(certificate: HouseCertificates.ForLocalhost);
        var refused = await SendAsync(receiver);
        Assert.Equal(SendOutcome.Final, refused.Outcome);
        Assert.Contains("nobody whom this computer trusts", refused.Reason);
        Assert.Empty(receiver.Calls);

        var trusted = await SendAsync(receiver, _share.Write("house.pem", HouseCertificates.RootPem));
        Assert.Equal(SendOutcome.Sent, trusted.Outcome);
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task No_text_from_a_share_gets_into_the_headers(string text)
    {
        await using var receiver = new WebhookReceiver();
        await SendAsync(receiver, message: SomeAlert.Saying("words"));
        Assert.Equal(SendOutcome.Sent, (await SendAsync(receiver, message: SomeAlert.Saying(text))).Outcome);
        var calls = receiver.Calls.ToList();
        Assert.Equal(calls[0].Headers.Keys, calls[1].Headers.Keys);
        Assert.Equal(calls[0].Request, calls[1].Request);
        using var body = JsonDocument.Parse(calls[1].Body);
        Assert.Equal(calls[1].Headers["webhook-id"], body.RootElement.GetProperty("id").GetString());
    }

    [Fact]
    public void What_is_shown_of_an_address_leaves_out_the_key_in_its_path() => Assert.Equal(
        "https://hooks.example/...",
        Channel(new WebhookConfig("https://hooks.example/T0/B1?key=2", null, null), TimeProvider.System).To);

    private Task<SendResult> SendAsync(
        WebhookReceiver receiver, string? certificateFile = null, AlertMessage? message = null, TimeProvider? clock = null) =>
        Channel(new WebhookConfig(receiver.Url, _secret, certificateFile), clock ?? TimeProvider.System)
            .SendAsync(message ?? SomeAlert.Raised, Token);

    private static IAlertChannel Channel(WebhookConfig config, TimeProvider time) =>
        Assert.Single(AlertChannels.Of(new AlertsConfig { ReportUrl = "", Webhook = config }, time));
}
