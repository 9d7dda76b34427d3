namespace SetupAudit.Readings;

/// <summary>
/// The versions of every program of a machine: which text held at a moment, and what running it does.
/// </summary>
public sealed class ProgramShelf
{
    private readonly Dictionary<string, List<ProgramText>> _versions = new(StringComparer.Ordinal);

    /// <summary>Adds a version; the order of adding does not matter.</summary>
    public void Add(ProgramText text)
    {
        if (!_versions.TryGetValue(text.Program, out var versions)) _versions[text.Program] = versions = [];
        versions.Add(text);
        versions.Sort(Compare);
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
            ? versions.LastOrDefault(text => text.ModifiedUtc <= moment) ?? versions[0]
            : null;

    /// <summary>What running the program at that moment does; null where no version of it has been read.</summary>
    public ProgramScope? Scope(string program, DateTimeOffset moment) => At(program, moment) is { } text
        ? new ProgramScope { Registers = [], Tools = [], Writes = text.Writes, Probing = text.Probing, Missing = [] }
        : null;

    private static int Compare(ProgramText left, ProgramText right)
    {
        var order = left.ModifiedUtc.CompareTo(right.ModifiedUtc);
        return order == 0 ? string.CompareOrdinal(left.Sha256, right.Sha256) : order;
    }
}
