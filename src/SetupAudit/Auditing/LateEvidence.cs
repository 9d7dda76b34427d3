using System.Globalization;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.Auditing;

/// <summary>
/// What an arrival says of the time before a machine's line, up to which evidence was dropped. What was taken in before
/// the line was drawn is in the state that the fold goes on from; what came later is kept and listed, changes nothing,
/// and makes a finding.
/// </summary>
internal sealed class LateEvidence(string machine, IReadOnlyList<PruneLine> lines)
{
    public static async Task<LateEvidence> OfAsync(StoreReader store, string machine, CancellationToken token) =>
        new(machine, await store.Prunings.LinesAsync(machine, token));

    /// <summary>The arrival without it, and with the reason where it came too late.</summary>
    public ReadArrival Without(ReadArrival read)
    {
        if (lines.Count == 0 || read.Sightings.Count == 0) return read;
        var line = lines[^1];
        var after = read.Sightings.Where(sighting => sighting.Position.AtUtc >= line.FromUtc).ToList();
        if (after.Count == read.Sightings.Count) return read;
        var left = read with
        {
            Sightings = after,
            Moments = read.Moments.Where(pair => pair.Key.AtUtc >= line.FromUtc).ToDictionary(),
        };
        // An agent's document repeats what it told long ago.
        if (read.Moments.Count > 0 && after.Count > 0) return left;
        var first = read.Sightings.MinBy(sighting => sighting.Position) ?? read.Sightings[0];
        var crossed = lines.FirstOrDefault(one =>
            read.Stored.Seq > one.Arrivals && first.Position.AtUtc < one.FromUtc);
        if (crossed is null) return left;
        var reason = string.Create(CultureInfo.InvariantCulture,
            $"it speaks of {first.Position.AtUtc:yyyy-MM-ddTHH:mm:ssZ}, and the evidence of {machine} before "
            + $"{crossed.FromUtc:yyyy-MM-ddTHH:mm:ssZ} was dropped; what is recorded of that time stands");
        left = left with { TooLate = reason };
        // Before a later line the finding is in its state.
        return crossed != line ? left : left with { Sightings = [Told(first, line, reason), .. after] };
    }

    private static StoredSighting Told(StoredSighting first, PruneLine line, string reason) => first with
    {
        Position = first.Position with { AtUtc = line.FromUtc, Line = 0 },
        EarliestUtc = line.FromUtc,
        ShareUtc = null,
        Body = ReadingText.Text(new SightingBody { TooLate = reason }),
    };
}
