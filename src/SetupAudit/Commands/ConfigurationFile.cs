using System.Security.Cryptography;
using SetupAudit.Commands.Validation;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>
/// Loads the configuration: its shape by Core's reader, its values by the validators, all faults in one go.
/// </summary>
internal static class ConfigurationFile
{
    /// <summary>A configuration is some kilobytes; what is larger is another file.</summary>
    private const long SizeMostBytes = 16 * 1024 * 1024;

    /// <summary>Does not throw: what is wrong with the file is a fault too.</summary>
    public static LoadedConfiguration Load(string path) => Check(Read(path));

    /// <summary>The file as it lies there, unread: what is only looked at need not be understood each time.</summary>
    public static ConfigurationBytes Read(string path)
    {
        try
        {
            var file = new FileInfo(path);
            if (Directory.Exists(file.FullName)) return Refused(path, "is a folder; give the configuration file");
            if (!file.Exists) return Refused(path, "is not there; give the configuration file");
            if (file.Length > SizeMostBytes) return Refused(path, "is larger than 16 MB; this is no configuration");
            var bytes = File.ReadAllBytes(file.FullName);
            return new ConfigurationBytes(path, file.DirectoryName ?? Directory.GetCurrentDirectory())
            {
                Bytes = bytes,
                Sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
            };
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return Refused(path, $"cannot be read: {fault.Message}");
        }
    }

    public static LoadedConfiguration Check(ConfigurationBytes read) => read.Fault is { } fault
        ? new LoadedConfiguration(read.File, null, [new ConfigFault("", 0, 0, fault)])
        : Check(read.File, ShopConfigReader.Read(read.Bytes, read.Folder)) with
        {
            Bytes = read.Bytes,
            Sha256 = read.Sha256,
        };

    private static LoadedConfiguration Check(string path, ConfigResult result)
    {
        var faults = result.Faults.ToList();
        if (result.Draft is { } draft) faults.AddRange(ValueFaults.Find(draft, result));
        return new LoadedConfiguration(
            path,
            faults.Count == 0 ? result.Config : null,
            [.. faults.OrderBy(fault => fault.Line).ThenBy(fault => fault.Column)]);
    }

    private static ConfigurationBytes Refused(string path, string fault) => new(path, "") { Fault = fault };
}
