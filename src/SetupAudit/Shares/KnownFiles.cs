namespace SetupAudit.Shares;

/// <summary>All that is known of a watched folder, by name.</summary>
internal sealed class KnownFiles
{
    /// <summary>A file that no whole listing has shown for this long is forgotten.</summary>
    public static readonly TimeSpan ForgetAfter = TimeSpan.FromHours(24);

    /// <summary>... and only when this many whole listings on the same mount have not shown it.</summary>
    public const int LeastMisses = 3;

    // No file has an empty name: under it the store keeps where the files were last seen.
    private const string MountName = "";
    private static readonly TimeSpan TryRefusedAgain = TimeSpan.FromMinutes(1);

    private readonly Dictionary<string, KnownFile> _files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, KnownFile>.AlternateLookup<ReadOnlySpan<char>> _bySpan;
    private readonly TimeSpan _rehash;

    public KnownFiles(IEnumerable<Position> positions, TimeSpan rehash)
    {
        _rehash = rehash;
        _bySpan = _files.GetAlternateLookup<ReadOnlySpan<char>>();
        foreach (var position in positions)
        {
            if (position.Name.Length == 0) Mount = position.State.Length == 0 ? null : position.State;
            else if (KnownText.Read(position) is { } known) Put(known);
        }
    }

    /// <summary>The mounted file system that the files were last seen on; null where unknown.</summary>
    public string? Mount { get; private set; }

    /// <summary>Where the files were last seen, as long as the store does not hold it.</summary>
    public Position? UnsavedMount { get; private set; }

    public int Count => _files.Count;

    public IEnumerable<KnownFile> All => _files.Values;

    public KnownFile? Find(ReadOnlySpan<char> name) => _bySpan.TryGetValue(name, out var known) ? known : null;

    public void Put(KnownFile known)
    {
        if (known.DueUtc == default) known.DueUtc = Due(known);
        _files[known.Name] = known;
    }

    public void Forget(string name) => _files.Remove(name);

    public void NoteMount(string? mount)
    {
        Mount = mount;
        UnsavedMount = new Position(MountName, mount ?? "");
    }

    public void MountSaved() => UnsavedMount = null;

    /// <summary>
    /// Half to nearly the whole period after the last comparison, by the name, so that they spread out.
    /// </summary>
    private DateTime Due(KnownFile known)
    {
        if (known.Kind != EntryKind.File) return DateTime.MaxValue;
        if (known.Refused is not null) return known.ReadUtc + TryRefusedAgain;
        return known.ReadUtc + (_rehash * (0.5 + (0.45 * Spread(known.Name))));
    }

    /// <summary>A number from 0 to 1 that a name always gives, and another name another.</summary>
    public static double Spread(string name)
    {
        var hash = 2166136261u;
        foreach (var letter in name) hash = unchecked((hash ^ letter) * 16777619u);
        return (hash >> 8) / (double)(1 << 24);
    }
}
