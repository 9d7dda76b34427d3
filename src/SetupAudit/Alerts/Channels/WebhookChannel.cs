using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Calls an address with a CloudEvents event, signed as Standard Webhooks says. No redirect is followed, no proxy asked
/// and no cookie kept: the call goes to the configured address or nowhere.
/// </summary>
internal sealed class WebhookChannel(WebhookConfig config, TimeProvider time) : IAlertChannel
{
    /// <summary>Standard Webhooks asks for 15 to 30 s.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(20);

    private const int HeadersMostKilobytes = 16;
    private const int AnswerMostBytes = 300;

    private readonly Uri _url = new(config.Url);

    public string Name => "webhook";

    // Path and query are often the secret of such an address.
    public string To => _url.GetLeftPart(UriPartial.Authority) + (_url.PathAndQuery == "/" ? "/" : "/...");

    public Task<SendResult> SendAsync(AlertMessage message, CancellationToken token) =>
        Trying.RunAsync(this, Limit, time, stop => CallAsync(message, stop), token);

    private async Task<SendResult> CallAsync(AlertMessage message, CancellationToken token)
    {
        using var trust = PeerTrust.With(config.CertificateFile);
        using var client = Client(trust);
        using var request = await RequestAsync(message, token);
        try
        {
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, token);
            return await JudgeAsync(answer, token);
        }
        catch (HttpRequestException fault) when (fault.HttpRequestError == HttpRequestError.SecureConnectionError)
        {
            return trust.Failed(fault);
        }
        catch (HttpRequestException fault)
        {
            return new(SendOutcome.Temporary, $"The call did not come through: {Trying.Reason(fault.Message)}");
        }
    }

    private static HttpClient Client(PeerTrust trust) => new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseProxy = false,
        UseCookies = false,
        MaxResponseHeadersLength = HeadersMostKilobytes,
        // A broken end of the answer is not waited for: the status line has said it.
        MaxResponseDrainSize = 0,
        SslOptions = { RemoteCertificateValidationCallback = trust.Accepts },
    })
    { Timeout = Timeout.InfiniteTimeSpan };

    private async Task<HttpRequestMessage> RequestAsync(AlertMessage message, CancellationToken token)
    {
        var now = time.GetUtcNow();
        var id = CloudEvent.IdOf(message);
        var body = CloudEvent.Of(message, now);
        var request = new HttpRequestMessage(HttpMethod.Post, _url) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(CloudEvent.MediaType, "utf-8");
        request.Headers.UserAgent.Add(new ProductInfoHeaderValue("SetupAudit", null));
        request.Headers.ConnectionClose = true;
        request.Headers.Add("webhook-id", id);
        request.Headers.Add("webhook-timestamp", now.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture));
        if (config.Secret is { } secret)
            request.Headers.Add("webhook-signature",
                WebhookSignature.Of(await KeysAsync(secret, token), id, now.ToUnixTimeSeconds(), body));
        return request;
    }

    private static async Task<IReadOnlyList<byte[]>> KeysAsync(SecretSource secret, CancellationToken token)
    {
        var lines = await SecretText.LinesAsync(secret, token);
        var keys = lines.Select(WebhookSignature.KeyOf).OfType<byte[]>().ToList();
        return keys.Count > 0 ? keys : throw new SendFaultException(SendOutcome.Final,
            $"{SecretText.Place(secret)} holds no signing secret: whsec_ and 24 to 64 bytes in base64, one a line.");
    }

    private async Task<SendResult> JudgeAsync(HttpResponseMessage answer, CancellationToken token)
    {
        var outcome = WebhookAnswer.Outcome((int)answer.StatusCode);
        var reason = WebhookAnswer.Words((int)answer.StatusCode);
        if (outcome == SendOutcome.Sent) return new(outcome, reason);
        var said = Trying.Reason(await BeginningAsync(answer, token));
        return new(outcome, said.Length == 0 ? reason : $"{reason} It said: {said}",
            outcome == SendOutcome.Temporary ? WebhookAnswer.RetryAfter(answer.Headers.RetryAfter, time) : null);
    }

    private static async Task<string> BeginningAsync(HttpResponseMessage answer, CancellationToken token)
    {
        try
        {
            var bytes = new byte[AnswerMostBytes];
            await using var body = await answer.Content.ReadAsStreamAsync(token);
            var length = await body.ReadAtLeastAsync(bytes, bytes.Length, throwOnEndOfStream: false, token);
            return Encoding.UTF8.GetString(bytes, 0, length);
        }
        catch (Exception fault) when (fault is IOException or HttpRequestException)
        {
            return "";
        }
    }
}
