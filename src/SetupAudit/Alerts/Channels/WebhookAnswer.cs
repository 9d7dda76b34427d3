using System.Globalization;
using System.Net.Http.Headers;

namespace SetupAudit.Alerts.Channels;

/// <summary>What the status of an answer means for the message and for the channel.</summary>
internal static class WebhookAnswer
{
    /// <summary>A receiver that asks for more than this is asked again after it.</summary>
    public static readonly TimeSpan RetryAfterMost = TimeSpan.FromHours(1);

    // 408 and 425 say themselves that the same call may be made again (RFC 9110 15.5.9, RFC 8470 5.2). A redirect may
    // be a page of a door in between that is gone in an hour.
    public static SendOutcome Outcome(int status) => status switch
    {
        >= 200 and < 300 => SendOutcome.Sent,
        410 => SendOutcome.Final,
        408 or 425 or 429 => SendOutcome.Temporary,
        >= 400 and < 500 => SendOutcome.Permanent,
        _ => SendOutcome.Temporary,
    };

    public static string Words(int status) => status switch
    {
        >= 200 and < 300 => Said(status, "it has the message."),
        >= 300 and < 400 => Said(status, "it sends on to another address, which is not followed; "
            + "where it has moved for good, change Url."),
        410 => Said(status, "it wants no more messages; nothing is sent until Url is changed."),
        429 => Said(status, "it is sent too much."),
        401 or 403 => Said(status, "it does not accept who sends, or the signature."),
        >= 400 and < 500 => Said(status, "it does not accept the message."),
        _ => Said(status, "it cannot take the message now."),
    };

    /// <summary>How long the receiver asks to be left alone, in either form of RFC 9110 10.2.3, capped.</summary>
    public static TimeSpan? RetryAfter(RetryConditionHeaderValue? asked, TimeProvider time)
    {
        var wait = asked?.Delta ?? (asked?.Date is { } date ? date - time.GetUtcNow() : null);
        if (wait is not { } span) return null;
        return span < TimeSpan.Zero ? TimeSpan.Zero : span > RetryAfterMost ? RetryAfterMost : span;
    }

    private static string Said(int status, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"The receiver answered {status}: {what}");
}
