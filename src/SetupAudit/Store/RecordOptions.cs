using SetupAudit.Shop;

namespace SetupAudit.Store;

/// <summary>How a store keeps its record.</summary>
public sealed record RecordOptions
{
    /// <summary>The shop's name, from which the name of a new record is made.</summary>
    public string Shop { get; init; } = "";

    /// <summary>Where checkpoints are copied to as well, off this computer; null for nowhere.</summary>
    public string? OffBoxFolder { get; init; }

    /// <summary>The file of the key that signs; null for the store's own.</summary>
    public string? KeyFile { get; init; }

    /// <summary>As the configuration says.</summary>
    public static RecordOptions Of(ShopConfig shop) => new()
    {
        Shop = shop.Name,
        OffBoxFolder = shop.Store.Checkpoints,
        KeyFile = shop.Store.KeyFile,
    };
}
