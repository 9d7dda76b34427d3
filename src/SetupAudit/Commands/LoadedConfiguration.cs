using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>What came of loading a configuration file.</summary>
/// <param name="File">As it was given on the command line.</param>
/// <param name="Config">Null where there is any fault.</param>
internal sealed record LoadedConfiguration(string File, ShopConfig? Config, IReadOnlyList<ConfigFault> Faults)
{
    /// <summary>The file as it was read; empty where it could not be.</summary>
    public ReadOnlyMemory<byte> Bytes { get; init; }

    /// <summary>Of the bytes that were read; empty where the file could not be.</summary>
    public string Sha256 { get; init; } = "";

    /// <summary>
    /// A line a fault: shop.json:14:9 Machines.mill-3.Units: "metric" is not allowed; use mm or inch.
    /// </summary>
    public IEnumerable<string> FaultLines => Faults.Select(LineOf);

    private string LineOf(ConfigFault fault)
    {
        var place = fault.Line == 0
            ? File
            : string.Create(CultureInfo.InvariantCulture, $"{File}:{fault.Line}:{fault.Column}");
        return fault.Path.Length == 0 ? $"{place} {fault.Message}" : $"{place} {fault.Path}: {fault.Message}";
    }
}
