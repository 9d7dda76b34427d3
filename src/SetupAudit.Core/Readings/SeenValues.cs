namespace SetupAudit.Readings;

/// <summary>
/// Finds a key that a dump gives twice with different values. Dumps are nearly always in rising order, and as long as
/// they are no look-up is needed.
/// </summary>
internal sealed class SeenValues
{
    private readonly List<(int Key, decimal? Value)> _rising = [];
    private Dictionary<int, decimal?>? _all;

    /// <summary>Takes a value in; true where the key stood before with another one.</summary>
    public bool Contradicts(int key, decimal? value)
    {
        if (_all is null && (_rising.Count == 0 || key > _rising[^1].Key))
        {
            _rising.Add((key, value));
            return false;
        }
        _all ??= _rising.ToDictionary(pair => pair.Key, pair => pair.Value);
        return !_all.TryAdd(key, value) && _all[key] != value;
    }
}
