namespace SetupAudit.Readings;

/// <summary>
/// The versions of every program of a machine: which text held at a moment, and what running it does.
/// </summary>
public sealed class ProgramShelf
{
    private const int ScopesKept = 4_096;

    private readonly Dictionary<string, List<ProgramText>> _versions = new(StringComparer.Ordinal);
    private readonly Dictionary<ProgramText, ProgramText> _files = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<(string Program, int Versions), ProgramScope> _scopes = [];
    private readonly List<DateTimeOffset> _times = [];

    /// <summary>
    /// Adds a version, and the programs that follow it in its file; the order of adding does not matter.
    /// </summary>
    public void Add(ProgramText text)
    {
        Put(text);
        foreach (var other in text.Subprograms)
        {
            Put(other);
            _files[other] = text;
        }
        var place = _times.BinarySearch(text.ModifiedUtc);
        if (place < 0) _times.Insert(~place, text.ModifiedUtc);
        _scopes.Clear();
    }

    public IEnumerable<string> Names => _versions.Keys.Order(StringComparer.Ordinal);

    /// <summary>All versions of a program, oldest first.</summary>
    public IReadOnlyList<ProgramText> Versions(string program) =>
        _versions.TryGetValue(program, out var versions) ? versions : [];

    /// <summary>
    /// The last version modified at or before the moment, else the first read after it; null where none was read.
    /// </summary>
    public ProgramText? At(string program, DateTimeOffset moment) =>
        _versions.TryGetValue(program, out var versions)
            ? versions.FindLast(text => text.ModifiedUtc <= moment) ?? versions[0]
            : null;

    /// <summary>
    /// What running the program at that moment does, its calls followed; null where no version of it has been read.
    /// Kept, so that asking again for the same versions costs a look-up.
    /// </summary>
    public ProgramScope? Scope(string program, DateTimeOffset moment)
    {
        if (At(program, moment) is not { } text) return null;
        // What every look-up gives depends on the moment only through the versions that are not later than it.
        var place = _times.BinarySearch(moment);
        var key = (program, place < 0 ? ~place : place + 1);
        if (_scopes.TryGetValue(key, out var known)) return known;
        if (_scopes.Count >= ScopesKept) _scopes.Clear();
        return _scopes[key] = new ProgramTrail(this, moment).Follow(text);
    }

    /// <summary>The program that stands first in the file of that one: itself, or the one it follows.</summary>
    internal ProgramText FileOf(ProgramText text) => _files.GetValueOrDefault(text, text);

    private void Put(ProgramText text)
    {
        if (!_versions.TryGetValue(text.Program, out var versions)) _versions[text.Program] = versions = [];
        var place = versions.FindLastIndex(other => Compare(other, text) <= 0);
        versions.Insert(place + 1, text);
    }

    private static int Compare(ProgramText left, ProgramText right)
    {
        var order = left.ModifiedUtc.CompareTo(right.ModifiedUtc);
        if (order == 0) order = string.CompareOrdinal(left.Sha256, right.Sha256);
        return order == 0 ? string.CompareOrdinal(left.File, right.File) : order;
    }
}
