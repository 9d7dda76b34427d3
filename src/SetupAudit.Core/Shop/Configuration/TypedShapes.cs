namespace SetupAudit.Shop.Configuration;

/// <summary>Reading of values that may be absent.</summary>
internal static class TypedShapes
{
    public static T? OrNull<T>(this TypedShape<T> shape, ConfigNode? node) where T : struct =>
        shape.TryRead(node, out var value) ? value : null;

    public static string? TextOrNull(this TypedShape<string> shape, ConfigNode? node) =>
        shape.TryRead(node, out var value) ? value : null;

    /// <summary>The items of a list that are as they should be.</summary>
    public static IReadOnlyList<T> Each<T>(this TypedShape<T> shape, ConfigNode? list)
    {
        var values = new List<T>();
        foreach (var item in list?.Items ?? [])
            if (shape.TryRead(item, out var value)) values.Add(value);
        return values;
    }
}
