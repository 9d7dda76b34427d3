namespace SetupAudit.Shop.Configuration;

/// <summary>Paths of the configuration: as written, and in full. Path maths only.</summary>
internal sealed class Folders(string configFolder)
{
    /// <summary>With forward slashes and without one at the end, else as written.</summary>
    public static string AsWritten(string folder)
    {
        var written = folder.Replace('\\', '/');
        return written.Length > 1 ? written.TrimEnd('/') is { Length: > 0 } trimmed ? trimmed : "/" : written;
    }

    /// <summary>The full path; a relative one is relative to the configuration's folder.</summary>
    public string Full(string folder) =>
        Path.TrimEndingDirectorySeparator(Path.GetFullPath(AsWritten(folder), configFolder));

    /// <summary>The full path of a key that may be absent.</summary>
    public string? OrNull(ConfigNode? node) => Values.Path.TryRead(node, out var path) ? Full(path) : null;
}
