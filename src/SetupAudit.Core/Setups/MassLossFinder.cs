using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;

namespace SetupAudit.Setups;

/// <summary>Sees most registers or tools vanish from a dump or fall to zero together, and come back together.</summary>
public static class MassLossFinder
{
    // Two registers set to zero by hand is housekeeping in many shops when all of them are used; tools go one by one.
    private const int LeastRegisters = 2;
    private const int LeastTools = 3;

    /// <summary>What a complete dump lost against the table before it.</summary>
    /// <param name="listedBefore">The keys that the same file listed last time; empty where it was not seen
    /// before.</param>
    public static IEnumerable<MassLoss> Lost(
        OffsetTable before, OffsetTable after, Sighting sighting, ImmutableHashSet<OffsetKey> listedBefore)
    {
        var listed = (sighting.Offsets ?? []).Select(reading => reading.Key).ToHashSet();
        if (!IsWhole(listed, listedBefore)) listedBefore = [];
        // Mostly nothing left the list and nothing fell to zero: then there is nothing to count.
        if (listedBefore.All(listed.Contains) && !before.States.Keys.Any(key => Fell(before, after, key))) yield break;
        foreach (var tools in new[] { false, true })
        {
            var held = Groups(before, tools);
            var shown = held.Where(group => group.Any(key => listed.Contains(key) || listedBefore.Contains(key)))
                .ToList();
            var lost = shown.Count(group => group.All(key => after.Value(key) is null or 0m)
                || group.All(key => listedBefore.Contains(key) && !listed.Contains(key)));
            if (lost >= (tools ? LeastTools : LeastRegisters) && lost * 2 > shown.Count)
                yield return Loss(sighting, tools, lost, shown.Count, returned: false);
        }
    }

    private static bool Fell(OffsetTable before, OffsetTable after, OffsetKey key) =>
        before.Value(key) is not null and not 0m && after.Value(key) is null or 0m;

    /// <summary>Still a dump of everything: one that lists a few tools of many is another kind of dump, and lost
    /// nothing.</summary>
    private static bool IsWhole(HashSet<OffsetKey> listed, ImmutableHashSet<OffsetKey> before) =>
        listed.Any(key => key.IsDatum)
        || listed.Count(key => key.IsTool) * 2 >= before.Count(key => key.IsTool);

    /// <summary>Offsets that stood at zero or nothing came back, most of them to what they held before the
    /// loss.</summary>
    public static IEnumerable<MassLoss> Returned(
        OffsetTable lostFrom, OffsetTable before, OffsetTable after, Sighting sighting)
    {
        foreach (var tools in new[] { false, true })
        {
            var held = Groups(lostFrom, tools);
            var gone = held.Where(group => group.All(key => before.Value(key) is null or 0m)).ToList();
            var back = gone.Count(group => group.All(key => after.Value(key) == lostFrom.Value(key)));
            if (back >= (tools ? LeastTools : LeastRegisters) && back * 2 > gone.Count)
                yield return Loss(sighting, tools, back, gone.Count, returned: true);
        }
    }

    /// <summary>The keys of each register, or tool, that holds any value but zero.</summary>
    private static List<List<OffsetKey>> Groups(OffsetTable table, bool tools) =>
    [
        .. table.States.Keys.Where(key => key.IsTool == tools && table.Value(key) is not null and not 0m)
            .GroupBy(key => tools ? key.Tool : key.Register.Number).Select(group => group.ToList()),
    ];

    private static MassLoss Loss(Sighting sighting, bool tools, int count, int of, bool returned) => new()
    {
        AtUtc = sighting.AtUtc,
        What = tools ? "tools" : "registers",
        Count = count,
        Of = of,
        Returned = returned,
        Source = sighting.At(0),
    };
}
