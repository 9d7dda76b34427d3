using System.Buffers;
using System.Text;
using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Shapes;

namespace SetupAudit.Commands;

/// <summary>Writes the rows of a list as JSON, CSV or a table for people.</summary>
internal static class ListWriter
{
    /// <summary>One array, a row a line, so that even a long list can be read with any tool.</summary>
    public static async Task JsonAsync(IAsyncEnumerable<ListRow> rows, bool withdrawn, TextWriter to)
    {
        await to.WriteAsync('[');
        var first = true;
        await foreach (var row in rows)
        {
            await to.WriteAsync(first ? "\n" : ",\n");
            await to.WriteAsync(withdrawn ? WithReason(row) : row.Body);
            first = false;
        }
        await to.WriteAsync(first ? "]\n" : "\n]\n");
    }

    public static async Task CsvAsync(IAsyncEnumerable<ListRow> rows, ListWhat what, bool withdrawn, TextWriter to)
    {
        var table = new CsvTable(to, [.. what.Fields, .. withdrawn ? ["withdrawn"] : Array.Empty<string>()]);
        await foreach (var row in rows)
        {
            using var body = JsonDocument.Parse(row.Body);
            var cells = what.Fields.Select(field => Cell(what, field, body.RootElement)).ToList();
            if (withdrawn) cells.Add(row.Withdrawn);
            table.Row(cells);
        }
    }

    public static async Task TableAsync(
        IAsyncEnumerable<ListRow> rows, ListWhat what, bool withdrawn, WallClock clock, Terminal terminal)
    {
        var columns = withdrawn ? [.. what.Columns, new ListColumn("withdrawn", _ => "")] : what.Columns;
        var table = TextTable.For(terminal, [.. columns.Select(column => (column.Title, column.IsNumber))]);
        var count = 0;
        var below = new List<string>();
        await foreach (var row in rows)
        {
            using var body = JsonDocument.Parse(row.Body);
            var cells = what.Columns.Select(column => column.Text(body.RootElement, clock)).ToList();
            if (withdrawn) cells.Add(VisibleText.Of(row.Withdrawn ?? ""));
            table.Row(cells);
            below.AddRange(what.Below(body.RootElement));
            count++;
        }
        table.End();
        foreach (var line in below) await terminal.Out.WriteLineAsync(VisibleText.Of(line));
        if (count > 0 && what.Columns.Any(column => column.IsTime)) await terminal.Out.WriteLineAsync(clock.Sentence);
        if (count == 0) await terminal.Errors.WriteLineAsync($"No {what.Name} to list.");
    }

    // Lists within a setup are long: a cell tells how many there are. All else that is nested stays as its JSON.
    private static string? Cell(ListWhat what, string field, JsonElement body)
    {
        if (!body.TryGetProperty(field, out var value)) return null;
        return value.ValueKind switch
        {
            JsonValueKind.Null => null,
            JsonValueKind.String => value.GetString(),
            JsonValueKind.Array when IsTexts(value) =>
                string.Join("; ", value.EnumerateArray().Select(item => item.GetString())),
            JsonValueKind.Array when what.Name == "setups" && field is not ("registers" or "tools") =>
                ListColumn.Length(value),
            _ => value.GetRawText(),
        };
    }

    private static bool IsTexts(JsonElement array) =>
        array.GetArrayLength() > 0 && array.EnumerateArray().All(item => item.ValueKind == JsonValueKind.String);

    private static string WithReason(ListRow row)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, ShapeBody.Compact))
        using (var body = JsonDocument.Parse(row.Body))
        {
            json.WriteStartObject();
            foreach (var field in body.RootElement.EnumerateObject())
            {
                json.WritePropertyName(field.Name);
                json.WriteRawValue(field.Value.GetRawText());
            }
            json.WriteString("withdrawn", row.Withdrawn);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
