using System.Diagnostics.CodeAnalysis;

namespace SetupAudit.Shop.Configuration;

/// <summary>A value and how it is read: what the check accepts is what reading gives.</summary>
internal sealed class TypedShape<T>(string allowed, ReadValue<T> read) : ValueShape(allowed)
{
    public override bool Accepts(ConfigNode node) => read(node, out _);

    public bool TryRead(ConfigNode? node, [MaybeNullWhen(false)] out T value)
    {
        value = default;
        return node is { IsWhole: true } && read(node, out value);
    }

    /// <summary>The value, or the fallback where there is none or it is faulty (the check has told that).</summary>
    public T Read(ConfigNode? node, T fallback) => TryRead(node, out var value) ? value : fallback;
}
