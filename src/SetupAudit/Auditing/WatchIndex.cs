using SetupAudit.Evidence;
using SetupAudit.Shares;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>
/// By which entries of the present configuration a file is watched: it holds for all history, so an old arrival is read
/// as the entries of today say, whatever they were when it came.
/// </summary>
internal sealed class WatchIndex
{
    private readonly ILookup<string, Entry> _entries;

    public WatchIndex(ShopConfig shop) => _entries = ShareSource.All(shop)
        .Select(source => new Entry(source, new FileGlob(source.Watch.Files)))
        .ToLookup(entry => entry.Source.Machine, StringComparer.Ordinal);

    /// <summary>The entries that watch it, in their order, with its name below each one's folder.</summary>
    public IEnumerable<(WatchConfig Watch, string Name)> Of(Arrival arrival)
    {
        foreach (var (source, glob) in _entries[arrival.Machine])
        {
            var folder = source.Watch.Folder + "/";
            if (!arrival.File.StartsWith(folder, StringComparison.Ordinal)) continue;
            var name = arrival.File[folder.Length..];
            if (glob.Matches(name)) yield return (source.Watch, name);
        }
    }

    private sealed record Entry(ShareSource Source, FileGlob Glob);
}
