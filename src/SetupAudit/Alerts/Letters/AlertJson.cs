using System.Buffers;
using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Units;

namespace SetupAudit.Alerts.Letters;

/// <summary>A message as JSON, for programs: the fields that docs/alerts.md names. Text is as it was found.</summary>
internal static class AlertJson
{
    /// <summary>Writes the object of a message.</summary>
    public static void Write(Utf8JsonWriter json, AlertMessage message, DateTimeOffset nowUtc)
    {
        var letter = LetterWriter.Of(message, nowUtc);
        json.WriteStartObject();
        json.WriteString("alert", message.Id);
        json.WriteString("thread", message.Thread);
        json.WriteString("kind", Word.Of(message.Kind));
        json.WriteString("severity", Word.Of(message.Severity));
        json.WriteString("shop", message.Shop);
        json.WriteString("machine", message.Machine);
        json.WriteString("setup", message.Setup);
        json.WriteString("share", message.Share);
        json.WriteString("queued", Word.Of(message.QueuedUtc));
        json.WriteNumber("ageSeconds", Math.Max(0, (long)(nowUtc - message.QueuedUtc).TotalSeconds));
        json.WriteString("subject", letter.Subject);
        json.WriteString("text", PlainLetter.Of(letter));
        json.WriteStartArray("findings");
        foreach (var finding in message.Findings) Write(json, finding);
        json.WriteEndArray();
        json.WriteNumber("remainder", message.Remainder);
        json.WriteString("ranSince", message.RanSince);
        json.WriteString("report", message.ReportLink);
        json.WriteString("caution", AlertWords.Caution);
        json.WriteEndObject();
    }

    /// <summary>The object as a document of its own.</summary>
    public static byte[] Document(AlertMessage message, DateTimeOffset nowUtc)
    {
        var bytes = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(bytes, new JsonWriterOptions { Indented = true }))
            Write(json, message, nowUtc);
        return [.. bytes.WrittenSpan, (byte)'\n'];
    }

    private static void Write(Utf8JsonWriter json, AlertFinding finding)
    {
        json.WriteStartObject();
        json.WriteString("finding", finding.Id);
        json.WriteString("machine", finding.Machine);
        json.WriteString("setup", finding.Setup);
        json.WriteString("rule", finding.Rule);
        json.WriteString("severity", Word.Of(finding.Severity));
        json.WriteString("message", finding.Message);
        json.WriteString("at", Word.Of(finding.AtUtc));
        json.WriteBoolean("cleared", finding.Cleared);
        json.WriteString("because", finding.Because);
        json.WriteStartArray("moves");
        foreach (var move in finding.Moves) Write(json, move);
        json.WriteEndArray();
        if (finding.LikelyCause is { } cause)
        {
            json.WriteStartObject("likelyCause");
            json.WriteString("cause", cause.Name);
            Number(json, "probability", cause.Probability);
            json.WriteString("because", cause.Because);
            json.WriteEndObject();
        }
        else json.WriteNull("likelyCause");
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, AlertMove move)
    {
        json.WriteStartObject();
        json.WriteString("what", move.What);
        Number(json, "before", move.Before);
        Number(json, "after", move.After);
        Number(json, "delta", move.Delta);
        json.WriteString("unit", Length.ShortName(move.Unit));
        Number(json, "limit", move.Limit);
        json.WriteEndObject();
    }

    // As text of its own: the digits that the file had, which a number of the machine would round.
    private static void Number(Utf8JsonWriter json, string name, decimal? value)
    {
        json.WritePropertyName(name);
        if (value is null) json.WriteNullValue();
        else json.WriteRawValue(Figures.Plain(value));
    }
}
