using SetupAudit.Shop.Configuration;

namespace SetupAudit.Shop;

/// <summary>What came of reading a configuration: all of its faults, or none and the configuration.</summary>
/// <param name="Config">Null where there is any fault.</param>
/// <param name="Faults">In the order of the file.</param>
public sealed record ConfigResult(ShopConfig? Config, IReadOnlyList<ConfigFault> Faults)
{
    /// <summary>
    /// What could be read beside the faults, so that its values can be judged in the same go; what is faulty in it
    /// holds a default. Null where the file is no JSON object. Never to be run with.
    /// </summary>
    public ShopConfig? Draft { get; init; }

    /// <summary>Where every value stands, by its path.</summary>
    public IReadOnlyDictionary<string, ConfigPlace> Places { get; init; } =
        new Dictionary<string, ConfigPlace>(StringComparer.Ordinal);

    /// <summary>The place of a path, or of the nearest thing around it that is there.</summary>
    public ConfigPlace PlaceOf(string path)
    {
        for (var at = path; at is not null; at = ConfigPath.Parent(at))
            if (Places.TryGetValue(at, out var place)) return place;
        return new ConfigPlace(1, 1);
    }
}
