using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Alerts.Channels;

/// <summary>Ids for places that allow few characters: the same for the same text, and no part of the text.</summary>
internal static class StableId
{
    private const int Bytes = 16;

    public static string Of(string text) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))[..Bytes]);
}
