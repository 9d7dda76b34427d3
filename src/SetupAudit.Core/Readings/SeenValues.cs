using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// Finds an offset that a dump gives twice with different values. Dumps are nearly always in rising order, and as long
/// as they are nothing is looked up.
/// </summary>
/// <param name="readings">What was read so far; the value asked about is added behind the question.</param>
internal sealed class SeenValues(List<OffsetReading> readings)
{
    private OffsetKey _highest;
    private Dictionary<OffsetKey, decimal?>? _all;

    /// <summary>Whether the offset was read before with another value.</summary>
    public bool Contradicts(OffsetKey key, decimal? value)
    {
        if (_all is null)
        {
            if (readings.Count == 0 || key > _highest)
            {
                _highest = key;
                return false;
            }
            _all = new Dictionary<OffsetKey, decimal?>(readings.Count * 2);
            foreach (var reading in readings) _all.TryAdd(reading.Key, reading.Value);
        }
        return !_all.TryAdd(key, value) && _all[key] != value;
    }
}
