using System.Text.Json;

namespace SetupAudit.Support;

/// <summary>Short ways to look into what the program answers.</summary>
public static class JsonLook
{
    /// <summary>What lies along a path of names; null where the path ends early.</summary>
    public static JsonElement? Find(this JsonElement from, params ReadOnlySpan<string> path)
    {
        foreach (var name in path)
            if (from.ValueKind != JsonValueKind.Object || !from.TryGetProperty(name, out from)) return null;
        return from;
    }

    /// <summary>A text, or a number with the digits as written; null where it is null or not there.</summary>
    public static string? Text(this JsonElement from, params ReadOnlySpan<string> path) => from.Find(path) switch
    {
        null or { ValueKind: JsonValueKind.Null } => null,
        { ValueKind: JsonValueKind.String } text => text.GetString(),
        { } other => other.GetRawText(),
    };

    /// <summary>The items of an array along a path; fails where there is none.</summary>
    public static IReadOnlyList<JsonElement> Items(this JsonElement from, params ReadOnlySpan<string> path) =>
        from.Find(path) is { ValueKind: JsonValueKind.Array } array
            ? [.. array.EnumerateArray()]
            : throw new InvalidOperationException($"no array at {string.Join('.', path)} of {from}");
}
