using SetupAudit.Findings;
using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>
/// On which share each source lies: a share that is gone makes every source on it silent, whichever machines they
/// belong to. That is worked out from names and asks no share anything.
/// </summary>
public sealed class ShareNames
{
    public const string Rule = "silent-source";

    private readonly Dictionary<(string Machine, string Source), string> _shares = [];

    /// <param name="mountOf">Where a folder's file system is mounted; null where it is this computer's own.</param>
    public ShareNames(ShopConfig shop, Func<string, string?> mountOf)
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(mountOf);
        foreach (var machine in shop.Machines)
            foreach (var watch in machine.Watch)
                _shares[(machine.Name, RuleBook.NameInId(watch))] = Of(watch, mountOf);
    }

    /// <summary>The share of a silent source; null for every other finding.</summary>
    public string? Of(string machine, string rule, string finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        if (rule != Rule) return null;
        var source = finding[(finding.LastIndexOf('/') + 1)..];
        return _shares.GetValueOrDefault((machine, source), source);
    }

    private static string Of(WatchConfig watch, Func<string, string?> mountOf)
    {
        if (watch.Sftp is { } sftp) return sftp.Host;
        if (watch.FullFolder.StartsWith(@"\\", StringComparison.Ordinal))
            return string.Join('\\', watch.FullFolder.Split('\\').Take(4));
        if (mountOf(watch.FullFolder) is { } mount) return mount;
        // A folder of this computer that something else fills: what lies beside it is most often filled the same way.
        var parent = watch.Folder.TrimEnd('/').LastIndexOf('/');
        return parent > 0 ? watch.Folder[..parent] : watch.Folder;
    }
}
