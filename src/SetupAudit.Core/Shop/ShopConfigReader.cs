using SetupAudit.Shop.Configuration;

namespace SetupAudit.Shop;

/// <summary>
/// Reads the configuration: one walk over the JSON for shape and places, so that every fault comes out in one go. What
/// needs judgement (whether a time zone exists, whether a pattern compiles) is for the program's validators.
/// </summary>
public static class ShopConfigReader
{
    /// <summary>
    /// Does not throw on any content. <paramref name="configFolder"/> is the full path of the file's folder.
    /// </summary>
    public static ConfigResult Read(ReadOnlySpan<byte> utf8Json, string configFolder)
    {
        if (!Path.IsPathFullyQualified(configFolder))
            throw new ArgumentException("the configuration's folder must be a full path", nameof(configFolder));
        var check = new ConfigCheck();
        if (ConfigTree.Read(utf8Json, check) is not { } root) return new ConfigResult(null, check.Faults);
        ShopConfigSection.Shape.Check(root, check);
        var machines = MachinesShape.Merge(root["Machines"]);
        var draft = ShopConfigSection.Read(root, machines, new Folders(configFolder));
        return new ConfigResult(check.Faults.Count == 0 ? draft : null, check.Faults)
        {
            Draft = draft,
            Places = PlacesOf(root, machines),
        };
    }

    private static Dictionary<string, ConfigPlace> PlacesOf(ConfigNode root, IReadOnlyList<ConfigMember> machines)
    {
        var places = new Dictionary<string, ConfigPlace>(StringComparer.Ordinal);
        Note(root, "", places);
        // What a machine takes from another stands where the other has it.
        foreach (var machine in machines) Note(machine.Value, machine.Value.Path, places);
        return places;
    }

    private static void Note(ConfigNode node, string path, Dictionary<string, ConfigPlace> places)
    {
        places[path] = node.Place;
        foreach (var member in node.Members) Note(member.Value, ConfigPath.Member(path, member.Name), places);
        for (var index = 0; index < node.Items.Count; index++)
            Note(node.Items[index], ConfigPath.Item(path, index), places);
    }
}
