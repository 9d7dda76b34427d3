using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>
/// Reads one field of a body that this program wrote. A field that should be there and is not throws.
/// </summary>
internal static class ShapeValues
{
    public static string? Text(this JsonElement body, string name) => body.GetProperty(name).GetString();

    public static string TextOf(this JsonElement body, string name) =>
        body.Text(name) ?? throw new FormatException($"{name} is null, which it never is");

    public static DateTimeOffset? Time(this JsonElement body, string name) =>
        body.Text(name) is { } text ? Word.ParseTime(text) : null;

    public static DateTimeOffset TimeOf(this JsonElement body, string name) =>
        Word.ParseTime(body.TextOf(name));

    public static decimal? Number(this JsonElement body, string name) =>
        body.GetProperty(name) is { ValueKind: not JsonValueKind.Null } value ? value.GetDecimal() : null;

    public static int? Whole(this JsonElement body, string name) =>
        body.GetProperty(name) is { ValueKind: not JsonValueKind.Null } value ? value.GetInt32() : null;

    public static int WholeOf(this JsonElement body, string name) => body.GetProperty(name).GetInt32();

    public static bool? Flag(this JsonElement body, string name) =>
        body.GetProperty(name) is { ValueKind: not JsonValueKind.Null } value ? value.GetBoolean() : null;

    public static bool FlagOf(this JsonElement body, string name) => body.GetProperty(name).GetBoolean();

    public static T? Choice<T>(this JsonElement body, string name)
        where T : struct, Enum => body.Text(name) is { } word ? Word.Parse<T>(word) : null;

    public static T ChoiceOf<T>(this JsonElement body, string name)
        where T : struct, Enum => Word.Parse<T>(body.TextOf(name));

    public static Unit? Unit(this JsonElement body, string name) =>
        body.Text(name) is { } unit ? Word.ParseUnit(unit) : null;

    public static IReadOnlyList<T> List<T>(this JsonElement body, string name, Func<JsonElement, T> read) =>
        [.. body.GetProperty(name).EnumerateArray().Select(read)];

    /// <summary>
    /// An object that an older version of the program may not have written; null where there is none.
    /// </summary>
    public static T? Object<T>(this JsonElement body, string name, Func<JsonElement, T> read)
        where T : class =>
        body.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Object ? read(value) : null;

    public static IReadOnlyList<string> Texts(this JsonElement body, string name) =>
        body.List(name, item => item.GetString() ?? throw new FormatException($"{name} holds a null"));

    public static IReadOnlyList<T> Members<T>(this JsonElement body, string name, Func<JsonProperty, T> read) =>
        [.. body.GetProperty(name).EnumerateObject().Select(read)];

    public static (decimal? Value, Bounds? Range) NumberOrRange(this JsonElement body, string name)
    {
        var field = body.GetProperty(name);
        return field.ValueKind == JsonValueKind.Array
            ? (null, new Bounds(field[0].GetDecimal(), field[1].GetDecimal()))
            : (body.Number(name), null);
    }

    public static Register? Register(this JsonElement body, string name) =>
        body.Text(name) is { } text ? ParseRegister(text) : null;

    public static Register ParseRegister(string text) => Datums.Register.TryParse(text, out var register)
        ? register
        : throw new FormatException($"no register is called {text}");

    public static ToolPart? ToolPart(this JsonElement body, string name) =>
        body.Text(name) is { } text ? ParseToolPart(text) : null;

    public static ToolPart ParseToolPart(string text) => ToolPartName.TryParse(text, out var part)
        ? part
        : throw new FormatException($"no part of a tool is called {text}");

    public static OffsetKey Key(this JsonElement body) => body.Whole("tool") is { } tool
        ? OffsetKey.OfTool(tool, ParseToolPart(body.TextOf("of")))
        : OffsetKey.Datum(ParseRegister(body.TextOf("register")), body.ChoiceOf<Axis>("axis"));
}
