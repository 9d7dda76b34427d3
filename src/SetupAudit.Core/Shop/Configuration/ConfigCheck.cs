namespace SetupAudit.Shop.Configuration;

/// <summary>Collects the faults of one file.</summary>
internal sealed class ConfigCheck
{
    // A file of nothing but faults would fill the memory; nobody reads beyond the first hundreds.
    private const int FaultsMost = 1000;

    private readonly List<ConfigFault> _faults = [];

    /// <summary>No more faults are taken: what it costs to word them can be spared.</summary>
    public bool IsFull => _faults.Count >= FaultsMost;

    /// <summary>In the order of the file.</summary>
    public IReadOnlyList<ConfigFault> Faults =>
        [.. _faults.OrderBy(fault => fault.Line).ThenBy(fault => fault.Column)];

    public void Add(string path, ConfigPlace place, string message)
    {
        if (!IsFull) _faults.Add(new ConfigFault(path, place.Line, place.Column, message));
    }

    public void Add(ConfigNode node, string message) => Add(node.Path, node.Place, message);

    public void Missing(ConfigNode within, string name, string allowed) =>
        Add(ConfigPath.Member(within.Path, name), within.Place, $"is missing; give {allowed}");
}
