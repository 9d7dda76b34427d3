using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Changes;

/// <summary>Files that wait to be loaded into a control: they prove no state and only explain a later change.</summary>
public sealed class ToLoadShelf
{
    private readonly List<(DateTimeOffset ModifiedUtc, OffsetKey Key, decimal Value, SourceLine Source)> _values = [];

    public void Add(DateTimeOffset modifiedUtc, OffsetKey key, decimal value, SourceLine source) =>
        _values.Add((modifiedUtc, key, value, source));

    /// <summary>The line of the youngest waiting file, not younger than the change, that holds its new value; null
    /// where none does.</summary>
    public SourceLine? Explains(Change change) => _values
        .Where(item => item.Key == change.Key && item.Value == change.After && item.ModifiedUtc <= change.ToUtc)
        .OrderByDescending(item => item.ModifiedUtc).ThenBy(item => item.Source.File, StringComparer.Ordinal)
        .Select(item => item.Source).FirstOrDefault();
}
