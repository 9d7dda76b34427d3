using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// The signature of Standard Webhooks: HMAC-SHA256 over id, time and body, with a secret of 24 to 64 bytes.
/// </summary>
internal static class WebhookSignature
{
    private const string SecretPrefix = "whsec_";
    private const int BytesLeast = 24;
    private const int BytesMost = 64;

    /// <summary>
    /// The value of webhook-signature: one signature a key, for a time when one takes over from another.
    /// </summary>
    public static string Of(IEnumerable<byte[]> keys, string id, long timestamp, ReadOnlySpan<byte> body)
    {
        byte[] head = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{id}.{timestamp}."));
        byte[] signed = [.. head, .. body];
        return string.Join(' ', keys.Select(key => "v1," + Convert.ToBase64String(HMACSHA256.HashData(key, signed))));
    }

    /// <summary>The key that a line of the secret stands for; null where it is none.</summary>
    public static byte[]? KeyOf(string line)
    {
        var text = line.Trim();
        if (text.StartsWith(SecretPrefix, StringComparison.Ordinal)) text = text[SecretPrefix.Length..];
        var key = new byte[text.Length];
        if (!Convert.TryFromBase64String(text, key, out var length)) return null;
        return length is >= BytesLeast and <= BytesMost ? key[..length] : null;
    }
}
