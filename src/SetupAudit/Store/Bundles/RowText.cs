using System.Globalization;
using System.Text;

namespace SetupAudit.Store.Bundles;

/// <summary>Rows as their digest was made over them: the other way round of <see cref="Records.RowDigest"/>.</summary>
internal static class RowText
{
    // A length has no more digits than this: the whole file is held in memory.
    private const int DigitsMost = 9;

    /// <summary>The values of each row, null for an empty one; null where the bytes are no rows.</summary>
    public static IReadOnlyList<IReadOnlyList<string?>>? Read(ReadOnlySpan<byte> bytes)
    {
        var rows = new List<IReadOnlyList<string?>>();
        var row = new List<string?>();
        while (bytes.Length > 0)
            if (bytes[0] == '\n')
            {
                rows.Add(row);
                row = [];
                bytes = bytes[1..];
            }
            else if (bytes[0] == '~')
            {
                row.Add(null);
                bytes = bytes[1..];
            }
            else
            {
                var colon = bytes.IndexOf((byte)':');
                if (colon is < 1 or > DigitsMost || !int.TryParse(bytes[..colon], NumberStyles.None,
                    CultureInfo.InvariantCulture, out var length) || bytes.Length - colon - 2 < length)
                    return null;
                row.Add(Encoding.UTF8.GetString(bytes.Slice(colon + 1, length)));
                if (bytes[colon + 1 + length] != ',') return null;
                bytes = bytes[(colon + length + 2)..];
            }
        return row.Count == 0 ? rows : null;
    }
}
