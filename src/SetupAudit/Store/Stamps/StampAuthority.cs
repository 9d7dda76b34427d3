using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using SetupAudit.Shop;

namespace SetupAudit.Store.Stamps;

/// <summary>
/// Asks an authority for a time stamp over HTTP (RFC 3161, 3.4). No redirect is followed, no proxy asked and no cookie
/// kept, and what it answers is cut at a size that no stamp has.
/// </summary>
internal sealed class StampAuthority(TimeStampConfig config, TimeProvider time)
{
    /// <summary>From the call to the end of its answer.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(15);

    private const string QueryType = "application/timestamp-query";
    private const string ReplyType = "application/timestamp-reply";
    private const int HeadersMostKilobytes = 16;
    private const int NonceBytes = 16;

    private readonly Uri _url = new(config.Url);

    /// <summary>Whom it asks. Path and query may hold what is not for everybody.</summary>
    public string To => _url.GetLeftPart(UriPartial.Authority) + (_url.PathAndQuery == "/" ? "/" : "/...");

    /// <summary>The answer over some bytes, checked; throws with why there is none that can be kept.</summary>
    public async Task<(byte[] Answer, Stamp Stamp)> AskAsync(
        byte[] over, StampTrust trust, CancellationToken token)
    {
        var request = Rfc3161TimestampRequest.CreateFromData(
            over, HashAlgorithmName.SHA256, config.Policy is { } policy ? new Oid(policy) : null,
            RandomNumberGenerator.GetBytes(NonceBytes), requestSignerCertificates: true);
        var answer = await WithinLimitAsync(request.Encode(), token);
        return (answer, StampReading.Check(answer, over, trust, request));
    }

    private async Task<byte[]> WithinLimitAsync(byte[] query, CancellationToken token)
    {
        using var limit = new CancellationTokenSource(Limit, time);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(token, limit.Token);
        try
        {
            return await CallAsync(query, stop.Token);
        }
        catch (OperationCanceledException) when (!token.IsCancellationRequested)
        {
            throw new StampFaultException($"no answer within {Limit.TotalSeconds:0} s");
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException)
        {
            throw new StampFaultException($"the call did not come through: {fault.Message.TrimEnd('.')}", fault);
        }
    }

    private async Task<byte[]> CallAsync(byte[] query, CancellationToken token)
    {
        using var client = Client();
        using var request = new HttpRequestMessage(HttpMethod.Post, _url) { Content = new ByteArrayContent(query) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(QueryType);
        request.Headers.UserAgent.Add(new ProductInfoHeaderValue("SetupAudit", null));
        request.Headers.ConnectionClose = true;
        using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, token);
        if (!answer.IsSuccessStatusCode)
            throw new StampFaultException($"it answers with status {(int)answer.StatusCode}");
        if (answer.Content.Headers.ContentType?.MediaType is var type && type != ReplyType)
            throw new StampFaultException($"it answers {type ?? "without a type"}, not {ReplyType}");
        var bytes = new byte[StampReading.BytesMost + 1];
        await using var body = await answer.Content.ReadAsStreamAsync(token);
        var length = await body.ReadAtLeastAsync(bytes, bytes.Length, throwOnEndOfStream: false, token);
        return length <= StampReading.BytesMost
            ? bytes[..length]
            : throw new StampFaultException($"its answer has more than {StampReading.BytesMost} bytes, which no time "
                + "stamp has");
    }

    private static HttpClient Client() => new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseProxy = false,
        UseCookies = false,
        MaxResponseHeadersLength = HeadersMostKilobytes,
        MaxResponseDrainSize = 0,
    })
    { Timeout = Timeout.InfiniteTimeSpan };
}
