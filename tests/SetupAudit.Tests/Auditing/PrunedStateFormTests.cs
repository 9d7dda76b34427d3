using System.Text.Json;
using SetupAudit.Folding;
using SetupAudit.Store;
using SetupAudit.Support;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>
/// A state that was kept when evidence was dropped is all that is left of it: what an earlier version wrote is read by
/// every later one, and nothing in it is lost. fixtures/records/states holds one of each form; ACCEPT=1 adds one of
/// today's where it differs from them all.
/// </summary>
public sealed class PrunedStateFormTests
{
    private const string Kept = "fixtures/records/states";

    public static TheoryData<string> States =>
        [.. Directory.GetFiles(Repository.At(Kept), "*.json").Select(Path.GetFileName).OfType<string>().Order(StringComparer.Ordinal)];

    [Theory, MemberData(nameof(States))]
    public void A_state_of_an_earlier_form_is_read_and_nothing_in_it_is_lost(string name)
    {
        var bytes = File.ReadAllBytes(Repository.At($"{Kept}/{name}"));
        var state = StateText.FromBytes(bytes);
        Assert.Equal("mill-3", state.Machine);
        var lost = Lost(JsonDocument.Parse(bytes).RootElement, JsonDocument.Parse(StateText.ToBytes(state)).RootElement, "");
        Assert.True(lost is null, $"{name}: {lost}");
    }

    [Fact]
    public async Task Today_s_form_is_among_them()
    {
        var today = StateText.ToBytes(await StateAsync());
        var names = Members(JsonDocument.Parse(today).RootElement).ToHashSet(StringComparer.Ordinal);
        if (Environment.GetEnvironmentVariable("ACCEPT") == "1" && !Known(names))
        {
            Directory.CreateDirectory(Repository.At(Kept));
            var number = Directory.GetFiles(Repository.At(Kept), "*.json").Length + 1;
            await File.WriteAllBytesAsync(Repository.At($"{Kept}/state-{number:00}.json"), today, Token);
        }
        Assert.True(Known(names), "a state has members that no kept one has: accept one of today's form");

        static bool Known(HashSet<string> names) => Directory.Exists(Repository.At(Kept))
            && Directory.GetFiles(Repository.At(Kept), "*.json").Any(path =>
                names.IsSubsetOf(Members(JsonDocument.Parse(File.ReadAllBytes(path)).RootElement)));
    }

    // In the middle of a cycle of the made-up days, with an agent that nothing tells of in them.
    private static async Task<MachineState> StateAsync()
    {
        using var bench = new AuditBench();
        foreach (var (name, text, modified) in OrderTests.Story()) bench.Write(name, text, modified);
        await bench.OnceAsync();
        using var store = await StoreReader.OpenAsync(bench.StoreFolder, Token);
        var shop = bench.Options().Shop;
        var history = await MachineHistory.OpenAsync(shop, shop.Machines[0], store, Token);
        var state = await history.StateAtAsync(Pruned.At("2026-03-04T09:00:00Z"), Token);
        var key = state.Table.States.Keys.First();
        return state with
        {
            Streams = state.Streams.Add(7, new StreamState
            {
                AtUtc = state.Position.AtUtc,
                LastUtc = state.Position.AtUtc,
                Told = ["cmd#12"],
                Execution = "ACTIVE",
                Program = "O2001",
                Count = 4,
                CountAtStart = 3,
                CountableUtc = state.Position.AtUtc,
                Items = new StreamState().Items.Add("w1", StreamItem.Nothing with { Sequence = 12, Values = StreamItem.Nothing.Values.Add(key, -1.5m) }),
            }.With(new StreamInstance(5, 13, BySnapshot: false))),
        };
    }

    private static IEnumerable<string> Members(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(member => Members(member.Value).Append(member.Name)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Members),
        _ => [],
    };

    // The first value of one that the other has not; null where it has all.
    private static string? Lost(JsonElement from, JsonElement to, string path) => (from.ValueKind, to.ValueKind) switch
    {
        (JsonValueKind.Object, JsonValueKind.Object) => from.EnumerateObject().Select(member =>
            to.TryGetProperty(member.Name, out var there)
                ? Lost(member.Value, there, $"{path}/{member.Name}")
                : $"{path}/{member.Name} is lost").FirstOrDefault(lost => lost is not null),
        (JsonValueKind.Array, JsonValueKind.Array) when from.GetArrayLength() == to.GetArrayLength() =>
            Sorted(from).Zip(Sorted(to), (one, other) => Lost(one, other, $"{path}[]")).FirstOrDefault(lost => lost is not null),
        _ => from.GetRawText() == to.GetRawText() ? null : $"{path}: {from.GetRawText()} became {to.GetRawText()}",
    };

    // Sets have no order.
    private static IEnumerable<JsonElement> Sorted(JsonElement array) =>
        array.EnumerateArray().OrderBy(item => item.GetRawText(), StringComparer.Ordinal);
}
