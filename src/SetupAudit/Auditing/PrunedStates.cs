using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Serilog;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// The state that a machine's fold goes on from where earlier evidence was dropped. It stands in for the beginning,
/// also where the configuration or the program changed since: what was understood by then cannot be read again.
/// </summary>
internal static class PrunedStates
{
    /// <summary>Null where nothing of the machine was dropped.</summary>
    public static async Task<MachineState?> OfAsync(StoreReader store, MachineConfig machine, CancellationToken token)
    {
        if (await store.Prunings.LineAsync(machine.Name, token) is not { } line) return null;
        var bytes = await store.ReadEvidenceAsync(line.StateSha256, token)
            ?? throw Lost(machine, line.FromUtc, "it is not in the store");
        try
        {
            return Fitted(StateText.FromBytes(bytes), line.Reads, machine);
        }
        catch (JsonException fault)
        {
            throw Lost(machine, line.FromUtc, fault.Message);
        }
    }

    /// <summary>How a state of a machine is to be understood later.</summary>
    public static string Reads(MachineConfig machine) => ReadingText.Text(new Understanding(
        Numbers(machine), [.. machine.Watch.Select(watch => new Watched(watch.Index, Key(watch)))]));

    // Sources are told apart by their index, which another configuration may have given to others.
    private static MachineState Fitted(MachineState state, string reads, MachineConfig machine)
    {
        var then = ReadingText.Read<Understanding>(reads);
        if (then.Numbers != Numbers(machine))
        {
            Log.Warning("Numbers of {Machine} meant something else ({Then}) when its earlier evidence was dropped; "
                + "nothing is known of it from before", machine.Name, then.Numbers);
            return new MachineState { Machine = state.Machine, Position = state.Position };
        }
        var now = machine.Watch.GroupBy(Key, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.First().Index, StringComparer.Ordinal);
        var moved = then.Watch.Where(watch => now.ContainsKey(watch.Key))
            .ToDictionary(watch => watch.Index, watch => now[watch.Key]);
        if (moved.Count == then.Watch.Count && moved.All(pair => pair.Key == pair.Value)) return state;
        return state with
        {
            Sources = Moved(state.Sources, moved),
            Streams = Moved(state.Streams, moved),
            Listed = state.Listed.Select(pair => (Key: Moved(pair.Key, moved), pair.Value))
                .Where(pair => pair.Key is not null)
                .ToImmutableSortedDictionary(pair => pair.Key ?? "", pair => pair.Value, StringComparer.Ordinal),
            ListedOrder = [.. state.ListedOrder.Select(file => Moved(file, moved)).OfType<string>()],
        };
    }

    private static ImmutableSortedDictionary<int, T> Moved<T>(
        ImmutableSortedDictionary<int, T> bySource, Dictionary<int, int> moved) =>
        bySource.Where(pair => moved.ContainsKey(pair.Key))
            .ToImmutableSortedDictionary(pair => moved[pair.Key], pair => pair.Value);

    // A file that was listed is known as "index/file".
    private static string? Moved(string listed, Dictionary<int, int> moved)
    {
        var slash = listed.IndexOf('/', StringComparison.Ordinal);
        return slash > 0
            && int.TryParse(listed.AsSpan(0, slash), NumberStyles.None, CultureInfo.InvariantCulture, out var index)
            && moved.TryGetValue(index, out var to)
            ? string.Create(CultureInfo.InvariantCulture, $"{to}{listed[slash..]}")
            : null;
    }

    private static string Numbers(MachineConfig machine) => string.Create(CultureInfo.InvariantCulture,
        $"{machine.Kind} {machine.Units} X on diameter {machine.XOnDiameter} D on diameter {machine.DOnDiameter}");

    private static string Key(WatchConfig watch) => $"{watch.Folder}|{watch.Files}|{watch.Read}|{watch.IsToLoad}";

    private static StoreException Lost(MachineConfig machine, DateTimeOffset fromUtc, string why) => new(
        StoreFaultKind.Final, string.Create(CultureInfo.InvariantCulture,
            $"The state of {machine.Name} from which it goes on since evidence before {fromUtc:yyyy-MM-ddTHH:mm:ssZ} "
            + $"was dropped cannot be read: {why}. Use the program that wrote it, or go on from a copy of the store."));

    private sealed record Understanding(string Numbers, IReadOnlyList<Watched> Watch);

    private sealed record Watched(int Index, string Key);
}
