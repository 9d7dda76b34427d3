using System.Globalization;
using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Shapes;

namespace SetupAudit.Commands;

/// <summary>One column of a table for people.</summary>
internal sealed record ListColumn(string Title, Func<JsonElement, string> Cell, bool IsNumber = false)
{
    public bool IsTime { get; private init; }

    /// <summary>What stands in the table.</summary>
    public string Text(JsonElement row, WallClock clock) => Cell(row) is { Length: > 0 } text
        ? IsTime ? clock.Time(Word.ParseTime(text)) : text
        : "";

    /// <summary>A field as it is.</summary>
    public static ListColumn Of(string field, string? title = null) => new(title ?? field, row => Plain(row, field));

    /// <summary>A moment, which people are shown by the shop's clock.</summary>
    public static ListColumn Time(string field, string? title = null) =>
        new(title ?? field, row => Plain(row, field)) { IsTime = true };

    public static ListColumn Number(string field) => new(field, row => Plain(row, field), IsNumber: true);

    /// <summary>Register and axis, or tool and part, in one: G54.Z, T3.length.</summary>
    public static ListColumn Key() => new("what", Key);

    /// <summary>How many items an array has.</summary>
    public static ListColumn Count(string field) =>
        new(field, row => Length(row.GetProperty(field)), IsNumber: true);

    /// <summary>The items of an array, each in a few characters.</summary>
    public static ListColumn Items(string field, Func<JsonElement, string> item, string? title = null) => new(
        title ?? field, row => string.Join(' ', row.GetProperty(field).EnumerateArray().Select(item)));

    public static string Length(JsonElement array) =>
        array.GetArrayLength().ToString(CultureInfo.InvariantCulture);

    public static string Plain(JsonElement row, string field) =>
        row.TryGetProperty(field, out var value) ? Plain(value) : "";

    public static string Plain(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Null => "",
        JsonValueKind.String => VisibleText.Of(value.GetString() ?? ""),
        JsonValueKind.Array => string.Join("; ", value.EnumerateArray().Select(Plain)),
        _ => value.GetRawText(),
    };

    private static string Key(JsonElement row)
    {
        var tool = Plain(row, "tool");
        if (tool.Length > 0) return $"T{tool}.{Plain(row, "of")}";
        var register = Plain(row, "register");
        var axis = Plain(row, "axis");
        return axis.Length > 0 ? $"{register}.{axis}" : register;
    }
}
