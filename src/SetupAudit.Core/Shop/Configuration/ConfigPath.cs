using System.Globalization;

namespace SetupAudit.Shop.Configuration;

/// <summary>Paths into the configuration as people are shown them: Machines.mill-3.Watch[2].Read.</summary>
internal static class ConfigPath
{
    public static string Member(string parent, string name) => parent.Length == 0 ? name : $"{parent}.{name}";

    public static string Item(string parent, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"{parent}[{index}]");

    /// <summary>The path of what holds it; null for the whole file.</summary>
    public static string? Parent(string path)
    {
        if (path.Length == 0) return null;
        var end = path.LastIndexOfAny(['.', '[']);
        return end < 0 ? "" : path[..end];
    }
}
