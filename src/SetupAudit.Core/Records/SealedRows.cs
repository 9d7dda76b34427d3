using System.Text.Json;

namespace SetupAudit.Records;

/// <summary>What an entry says of rows that were written with it.</summary>
/// <param name="Table">Name of their table.</param>
/// <param name="After">Key of the row before the first; rows of several groups share one range.</param>
/// <param name="UpTo">Key of the last row.</param>
public sealed record SealedRows(string Table, long After, long UpTo)
{
    /// <summary>The setup that the rows belong to, for a table whose digests are by setup; null for none.</summary>
    public string? Setup { get; init; }

    /// <summary>The keys of the rows where they are no numbers, in the order of the digest; else null.</summary>
    public IReadOnlyList<string>? Keys { get; init; }

    public required long Rows { get; init; }

    /// <summary>Their digest, in hexadecimal.</summary>
    public required string Sha256 { get; init; }

    public RecordWord ToWord() => new(RecordKind.Rows, Said.Of(json =>
    {
        json.WriteString("table", Table);
        json.WriteNumber("after", After);
        json.WriteNumber("upTo", UpTo);
        if (Setup is not null) json.WriteString("setup", Setup);
        if (Keys is not null)
        {
            json.WriteStartArray("keys");
            foreach (var key in Keys) json.WriteStringValue(key);
            json.WriteEndArray();
        }
        json.WriteNumber("rows", Rows);
        json.WriteString("sha256", Sha256);
    }));

    /// <summary>Reads it back; null where the text is none.</summary>
    public static SealedRows? Read(string said)
    {
        try
        {
            using var document = JsonDocument.Parse(said);
            var root = document.RootElement;
            if (root.GetProperty("table").GetString() is not { } table
                || root.GetProperty("sha256").GetString() is not { } sha256)
                return null;
            return new SealedRows(table, root.GetProperty("after").GetInt64(), root.GetProperty("upTo").GetInt64())
            {
                Setup = root.TryGetProperty("setup", out var setup) ? setup.GetString() : null,
                Keys = root.TryGetProperty("keys", out var keys)
                    ? [.. keys.EnumerateArray().Select(key => key.GetString() ?? "")]
                    : null,
                Rows = root.GetProperty("rows").GetInt64(),
                Sha256 = sha256,
            };
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException
            or FormatException)
        {
            return null;
        }
    }
}
