using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>Writes one field, present with null where the value is unknown.</summary>
internal static class ShapeFields
{
    public static void Text(this Utf8JsonWriter json, string name, string? value) => json.WriteString(name, value);

    public static void Time(this Utf8JsonWriter json, string name, DateTimeOffset? value) =>
        json.WriteString(name, value is { } moment ? Word.Of(moment) : null);

    public static void Number(this Utf8JsonWriter json, string name, decimal? value)
    {
        if (value is { } number) json.WriteNumber(name, number);
        else json.WriteNull(name);
    }

    public static void Flag(this Utf8JsonWriter json, string name, bool? value)
    {
        if (value is { } flag) json.WriteBoolean(name, flag);
        else json.WriteNull(name);
    }

    public static void Choice<T>(this Utf8JsonWriter json, string name, T? value)
        where T : struct, Enum => json.WriteString(name, value is { } word ? Word.Of(word) : null);

    public static void Unit(this Utf8JsonWriter json, string name, Unit? value) =>
        json.WriteString(name, value is { } unit ? Length.ShortName(unit) : null);

    public static void Texts(this Utf8JsonWriter json, string name, IReadOnlyList<string> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values) json.WriteStringValue(value);
        json.WriteEndArray();
    }

    /// <summary>The sources that an answer was made without; <c>readUntil</c> is null for one never read.</summary>
    public static void Without(this Utf8JsonWriter json, IReadOnlyList<UnreadSource> unread) =>
        json.Each("foundWithout", unread, (item, source) =>
        {
            item.Text("source", source.Folder);
            item.Time("readUntil",
                source.ReadUntilUtc == DateTimeOffset.MinValue ? null : (DateTimeOffset?)source.ReadUntilUtc);
        });

    public static void Each<T>(
        this Utf8JsonWriter json, string name, IReadOnlyList<T> values, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
        {
            json.WriteStartObject();
            write(json, value);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>An object of named objects, such as axes: { X: { ... } }.</summary>
    public static void Map<T>(
        this Utf8JsonWriter json, string name, IEnumerable<(string Name, T Value)> members,
        Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartObject(name);
        foreach (var member in members)
        {
            json.WriteStartObject(member.Name);
            write(json, member.Value);
            json.WriteEndObject();
        }
        json.WriteEndObject();
    }

    /// <summary>One number, a range as [low, high], or null.</summary>
    public static void NumberOrRange(this Utf8JsonWriter json, string name, decimal? value, Bounds? range)
    {
        if (range is not { } bounds)
        {
            json.Number(name, value);
            return;
        }
        json.WriteStartArray(name);
        json.WriteNumberValue(bounds.Low);
        json.WriteNumberValue(bounds.High);
        json.WriteEndArray();
    }

    /// <summary>register, axis, tool and of: all four are there, and two of them are null.</summary>
    public static void Key(this Utf8JsonWriter json, Register? register, Axis? axis, int? tool, ToolPart? of)
    {
        json.Text("register", register?.ToString());
        json.Text("axis", axis?.ToString());
        json.Number("tool", tool);
        json.Text("of", of is { } part ? ToolPartName.Of(part) : null);
    }

    public static void Key(this Utf8JsonWriter json, OffsetKey key)
    {
        if (key.IsTool) json.Key(null, null, key.Tool, key.Part);
        else json.Key(key.Register, key.Axis, null, null);
    }

    /// <summary>A shape in a shape, or null.</summary>
    public static void Object(this Utf8JsonWriter json, string name, IShape? shape)
    {
        if (shape is null)
        {
            json.WriteNull(name);
            return;
        }
        json.WritePropertyName(name);
        shape.Write(json);
    }
}
