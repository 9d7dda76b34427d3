using System.Buffers;
using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Text;
using System.Text.Unicode;

namespace SetupAudit.Records;

/// <summary>The pieces that notes, keys and checkpoints are written with: strict UTF-8 and base64.</summary>
internal static class NoteText
{
    public const int KeyIdBytes = 4;

    private static readonly SearchValues<byte> Controls =
        SearchValues.Create([.. Enumerable.Range(0, ' ').Select(letter => (byte)letter).Where(IsNoLineFeed)]);

    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    /// <summary>The text of bytes that are UTF-8 without a byte order mark or a control but the line feed.</summary>
    public static bool TryDecode(
        ReadOnlySpan<byte> bytes, [NotNullWhen(true)] out string? text, [NotNullWhen(false)] out string? reason)
    {
        text = null;
        var control = bytes.IndexOfAny(Controls);
        reason = bytes.StartsWith(Encoding.UTF8.Preamble) ? "it begins with a byte order mark"
            : control >= 0 ? $"it has a control character (0x{bytes[control]:x2})"
            : Utf8.IsValid(bytes) ? null
            : "it is not UTF-8";
        if (reason is not null) return false;
        text = Strict.GetString(bytes);
        return true;
    }

    public static byte[] Encode(string text) => Strict.GetBytes(text);

    /// <summary>Reads base64 only as <see cref="Convert.ToBase64String(byte[])"/> would have written it.</summary>
    public static bool TryBase64(string text, out byte[] bytes)
    {
        var buffer = new byte[text.Length];
        bytes = [];
        // The class library skips blanks and stray bits: two texts for one value.
        if (!Convert.TryFromBase64String(text, buffer, out var count)
            || Convert.ToBase64String(buffer, 0, count) != text)
            return false;
        bytes = buffer[..count];
        return true;
    }

    public static uint KeyIdOf(ReadOnlySpan<byte> bytes) => BinaryPrimitives.ReadUInt32BigEndian(bytes);

    public static byte[] WithKeyId(uint keyId, IEnumerable<byte> rest)
    {
        var id = new byte[KeyIdBytes];
        BinaryPrimitives.WriteUInt32BigEndian(id, keyId);
        return [.. id, .. rest];
    }

    private static bool IsNoLineFeed(byte letter) => letter != '\n';
}
