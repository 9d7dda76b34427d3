using System.Globalization;
using System.Text.Json;
using SetupAudit.Records;

namespace SetupAudit.Store.Retention;

/// <summary>What the record says where evidence is dropped.</summary>
internal static class PruneWords
{
    /// <summary>The <c>did</c> of the entry.</summary>
    public const string Did = "pruned";

    /// <summary>Whether an entry says that evidence was dropped.</summary>
    public static bool Says(RecordBody body) => body.Kind == RecordKind.Keeping && Text(body, "did") == Did;

    /// <summary>How many files, with the verb.</summary>
    public static string Were(long files) => files == 1
        ? "1 file of evidence was"
        : string.Create(CultureInfo.InvariantCulture, $"{files} files of evidence were");

    /// <summary>When, by whom and why, for a sentence.</summary>
    public static string Sentence(RecordBody body) =>
        $"on {body.AtUtc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} by {Text(body, "by")} "
        + $"({Text(body, "reason")})";

    private static string? Text(RecordBody body, string name)
    {
        using var said = JsonDocument.Parse(body.Said);
        return said.RootElement.ValueKind == JsonValueKind.Object && said.RootElement.TryGetProperty(name, out var text)
            && text.ValueKind == JsonValueKind.String ? text.GetString() : null;
    }

    public static RecordWord Of(PruneOrder order) => new(RecordKind.Keeping, Said.Of(json =>
    {
        json.WriteString("did", Did);
        json.WriteString("id", order.Id);
        json.WriteString("before", UtcText.Of(order.BeforeUtc));
        json.WriteNumber("files", order.Sha256s.Count);
        json.WriteNumber("bytes", order.SizeBytes);
        json.WriteString("by", string.Join(" and ", order.Signatures.Select(one => one.Name)));
        json.WriteString("reason", order.Reason);
        json.WriteString("account", order.Account);
        json.WriteString("signature", order.Signatures.Count == 0 ? null : order.Signatures[0].Signature);
        json.WriteStartArray("signatures");
        foreach (var one in order.Signatures)
        {
            json.WriteStartObject();
            json.WriteString("person", one.Person);
            json.WriteString("name", one.Name);
            json.WriteString("role", one.Role);
            json.WriteString("key", one.Key);
            json.WriteString("signed", one.SignedSha256);
            json.WriteString("signature", one.Signature);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("lines");
        foreach (var (line, _) in order.Lines)
        {
            json.WriteStartObject();
            json.WriteString("machine", line.Machine);
            json.WriteString("from", UtcText.Of(line.FromUtc));
            json.WriteString("state", line.StateSha256);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }));
}
