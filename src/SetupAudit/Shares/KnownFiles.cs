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

    // Of the time between two comparisons; what is left of the whole is for the wait until the next poll.
    private const double LeastPart = 0.5;
    private const double LeastPartAgain = 0.85;
    private const double MostPart = 0.95;
    private static readonly TimeSpan TryRefusedAgain = TimeSpan.FromMinutes(1);

    private readonly Dictionary<string, KnownFile> _files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, KnownFile>.AlternateLookup<ReadOnlySpan<char>> _bySpan;
    private readonly TimeSpan _rehash;
    private readonly List<KnownFile?> _listed = [];
    private int _place;

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

    /// <summary>A listing begins: the files are asked for in its order.</summary>
    public void BeginListing() => _place = 0;

    /// <summary>
    /// A folder lists its files in the same order each time, so the file that stood in this place the last time is
    /// tried first: in a folder of thousands that saves the walk through a table which no cache holds.
    /// </summary>
    public KnownFile? Find(ReadOnlySpan<char> name)
    {
        var place = _place++;
        var expected = place < _listed.Count ? _listed[place] : null;
        if (expected?.Place == place && name.SequenceEqual(expected.Name)) return expected;
        if (!_bySpan.TryGetValue(name, out var known)) known = null;
        else known.Place = place;
        if (place < _listed.Count) _listed[place] = known;
        else _listed.Add(known);
        return known;
    }

    public void Put(KnownFile known)
    {
        if (_files.TryGetValue(known.Name, out var replaced)) Stand(replaced, known);
        if (known.DueUtc == default) known.DueUtc = Due(known, isAgain: replaced is not null);
        _files[known.Name] = known;
    }

    public void Forget(string name)
    {
        if (_files.Remove(name, out var forgotten)) Stand(forgotten, null);
    }

    public void NoteMount(string? mount)
    {
        Mount = mount;
        UnsavedMount = new Position(MountName, mount ?? "");
    }

    public void MountSaved() => UnsavedMount = null;

    // Takes over another's place in the listing's order: what is no longer known must not be found there.
    private void Stand(KnownFile before, KnownFile? now)
    {
        if (before.Place >= _listed.Count || !ReferenceEquals(_listed[before.Place], before)) return;
        _listed[before.Place] = now;
        if (now is not null) now.Place = before.Place;
    }

    /// <summary>
    /// Nearly the whole period after the last comparison, by the name; the first time from half of it on, so that files
    /// which came together spread out.
    /// </summary>
    private DateTime Due(KnownFile known, bool isAgain)
    {
        if (known.Kind != EntryKind.File) return DateTime.MaxValue;
        if (known.Refused is not null) return known.ReadUtc + TryRefusedAgain;
        var least = isAgain ? LeastPartAgain : LeastPart;
        return known.ReadUtc + (_rehash * (least + ((MostPart - least) * Spread(known.Name))));
    }

    /// <summary>A number from 0 to 1 that a name always gives, and another name another.</summary>
    public static double Spread(string name)
    {
        var hash = 2166136261u;
        foreach (var letter in name) hash = unchecked((hash ^ letter) * 16777619u);
        return (hash >> 8) / (double)(1 << 24);
    }
}
