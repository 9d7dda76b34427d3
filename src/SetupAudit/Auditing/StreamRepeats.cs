using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Leaves out what an agent's document repeats: each shows again, under its old moment, all that has not changed since.
/// Folding would pass over it; but a sighting of long ago winds a machine back, and each document would do so. What is
/// left out depends on the documents alone: of two that tell the same of a moment, the one that is folded first stays.
/// </summary>
internal sealed class StreamRepeats(string machine, StoreReader kept)
{
    private readonly List<(SightingPosition Place, HashSet<string> Names)> _batch = [];

    /// <summary>What was read before is kept by now, or never will be.</summary>
    public void Begin() => _batch.Clear();

    /// <summary>The arrival without what others tell; noted for those that are read with it.</summary>
    public async Task<ReadArrival> WithoutAsync(ReadArrival read, CancellationToken token)
    {
        if (read.Moments.Count == 0) return read;
        var known = await kept.BesideAsync(machine, [.. read.Moments.Keys], token);
        var left = new List<StoredSighting>(read.Sightings.Count);
        foreach (var sighting in read.Sightings)
        {
            if (!read.Moments.TryGetValue(sighting.Position, out var moment))
            {
                left.Add(sighting);
                continue;
            }
            var names = moment.Names.ToHashSet(StringComparer.Ordinal);
            var repeated = !moment.IsEnd && IsTold(names, sighting.Position, known);
            _batch.Add((sighting.Position, names));
            if (!repeated) left.Add(sighting);
        }
        return read with { Sightings = left };
    }

    private bool IsTold(HashSet<string> names, SightingPosition place, IReadOnlyList<StoredSighting> known)
    {
        var missing = new HashSet<string>(names, StringComparer.Ordinal);
        foreach (var one in _batch)
            if (IsBefore(one.Place, place)) missing.ExceptWith(one.Names);
        foreach (var stored in known.Where(stored => missing.Count > 0 && IsBefore(stored.Position, place)))
            if (stored.Body is { } body && ReadingText.Read<SightingBody>(body).Stream is { } moment)
                missing.ExceptWith(moment.Names);
        return missing.Count == 0;
    }

    private static bool IsBefore(SightingPosition other, SightingPosition place) =>
        other.AtUtc == place.AtUtc && other.Source == place.Source && other < place;
}
