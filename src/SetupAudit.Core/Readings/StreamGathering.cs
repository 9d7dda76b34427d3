using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>
/// Gathers what a document says, in the order in which it is written: by components. At its end it is put into the
/// order of the moments.
/// </summary>
internal sealed class StreamGathering(MachineConfig machine, WatchConfig watch)
{
    // A run of numbers without a hole is believed to be all there was from this length on.
    private const int RunLeast = 3;

    private readonly List<Gathered> _gathered = [];
    private readonly List<(string? Name, string? Uuid)> _devices = [];
    private readonly HashSet<ulong> _sequences = [];
    private readonly HashSet<string> _items = new(StringComparer.Ordinal);
    private (string? Name, string? Id)? _path;
    private bool _repeats;
    private DateTimeOffset? _latestUtc;

    /// <summary>Whether what comes now is of the device and path that the configuration names, if it does.</summary>
    public bool IsMeant { get; private set; } = true;

    public List<Fault> Faults { get; } = [];

    public StreamHeader? Header { get; set; }

    public void BeginDevice(string? name, string? uuid)
    {
        _devices.Add((name, uuid));
        _path = null;
        IsMeant = watch.Stream?.Device is not { } wanted || Is(_devices.Count - 1, wanted);
    }

    public void BeginComponent(string? component, string? name, string? id)
    {
        _path = component == "Path" ? (name, id) : null;
        // The agent itself is a device of its documents too; it cuts nothing.
        var isAgent = component is "Agent" or "Adapter" or "Adapters";
        IsMeant = !isAgent && (watch.Stream?.Device is not { } device || Is(_devices.Count - 1, device))
            && (_path is null || watch.Stream?.Path is not { } path || path == name || path == id);
    }

    /// <summary>An observation of anything at all.</summary>
    public void Saw(ulong sequence, DateTimeOffset atUtc, string item, bool isCondition)
    {
        _sequences.Add(sequence);
        _repeats |= !isCondition && !_items.Add(item);
        if (_latestUtc is null || atUtc > _latestUtc) _latestUtc = atUtc;
    }

    public void Add(StreamObservation observation, DateTimeOffset atUtc) =>
        _gathered.Add(new Gathered(observation, atUtc, _devices.Count - 1, _path));

    /// <param name="isWhole">The document was read to its end.</param>
    public StreamDocument Finish(bool isWhole)
    {
        if (Header is null && isWhole) Faults.Add(new Fault(0, 0, "the document has no Header: whether observations "
            + "were lost cannot be seen"));
        else if (Header?.Fault is { } fault) Faults.Insert(0, fault);
        var observed = OfPath(OfDevice());
        var range = Range(isWhole);
        var moments = observed.GroupBy(one => one.AtUtc).Select(group => Moment(group.Key, group, range)).ToList();
        if (isWhole) End(moments, observed, range);
        moments.Sort((left, right) => left.AtUtc.CompareTo(right.AtUtc));
        return new StreamDocument(moments, Faults);
    }

    private List<Gathered> OfDevice()
    {
        if (watch.Stream?.Device is { } wanted)
        {
            if (_devices.Count > 0 && !Enumerable.Range(0, _devices.Count).Any(device => Is(device, wanted)))
                Faults.Add(new Fault(0, 0, $"the document tells of {Names(_devices)}, and none of them is the Device "
                    + $"{Wording.Quote(wanted)} of the configuration"));
            return _gathered;
        }
        var told = _gathered.Select(one => one.Device).Distinct().ToList();
        if (told.Count <= 1) return _gathered;
        if (told.Exists(device => Is(device, machine.Name)))
            return _gathered.FindAll(one => Is(one.Device, machine.Name));
        Faults.Add(new Fault(0, 0, $"the document tells of {Names(told.ConvertAll(_devices.ElementAtOrDefault))}; say "
            + "in the configuration which Device the machine is"));
        return [];
    }

    private List<Gathered> OfPath(List<Gathered> gathered)
    {
        if (watch.Stream?.Path is not null) return gathered;
        var paths = gathered.Select(one => one.Path).OfType<(string? Name, string? Id)>().Distinct().ToList();
        if (paths.Count <= 1) return gathered;
        Faults.Add(new Fault(0, 0, $"the document tells of the paths {Names(paths)}; say in the configuration which "
            + "Path is meant"));
        return gathered.FindAll(one => one.Path is null);
    }

    private bool Is(int device, string wanted)
    {
        var (name, uuid) = _devices.ElementAtOrDefault(device);
        return wanted.Equals(name, StringComparison.OrdinalIgnoreCase)
            || wanted.Equals(uuid, StringComparison.OrdinalIgnoreCase);
    }

    // A hostile document may name any number of them; a sentence holds few.
    private static string Names(List<(string? Name, string? Id)> pairs)
    {
        const int most = 4;
        var names = pairs.Take(most).Select(pair => Wording.Quote(pair.Name ?? pair.Id ?? ""));
        return string.Join(", ", pairs.Count > most ? names.Append("others") : names);
    }

    private StreamRange Range(bool isWhole)
    {
        var first = Header?.First ?? 0;
        var next = isWhole ? Header?.Next : null;
        var isSnapshot = _sequences.Any(sequence => sequence < first);
        return new StreamRange(Header?.Instance ?? 0, isSnapshot ? first : From(first, next), next, isSnapshot);
    }

    // Where every number is there and one item stands twice, this is all that happened, and it began with the first.
    private ulong From(ulong first, ulong? next)
    {
        if (!_repeats || _sequences.Count < RunLeast) return first;
        var (least, most) = (_sequences.Min(), _sequences.Max());
        var isRun = most - least == (ulong)(_sequences.Count - 1) && next > most && next - most == 1;
        return isRun && least > first ? least : first;
    }

    // An agent that had more to give speaks only of what it gave.
    private void End(List<StreamMoment> moments, List<Gathered> observed, StreamRange range)
    {
        var isLatest = Header is { Next: { } next, Last: { } last } && next > last;
        var createdUtc = isLatest && Header?.CreatedUtc is { } utc ? ShopClock.PutRight(utc, machine) : _latestUtc;
        if (createdUtc is not { } endUtc) return;
        var isWritten = isLatest && Header?.CreatedUtc is not null;
        var shows = observed.Select(one => one.Observation)
            .Where(one => one.Means is StreamMeaning.Offsets or StreamMeaning.Unavailable)
            .GroupBy(one => one.Item, StringComparer.Ordinal).OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => new StreamShown(group.Key, group.Max(one => one.Sequence))).ToList();
        var at = moments.FindIndex(moment => moment.AtUtc == endUtc);
        if (at >= 0) moments[at] = moments[at] with { Shows = shows, WrittenHere = isWritten };
        else moments.Add(new StreamMoment
        {
            AtUtc = endUtc,
            Line = Math.Max(1, Header?.Line ?? 1),
            Range = range,
            Shows = shows,
            WrittenHere = isWritten,
        });
    }

    private static StreamMoment Moment(DateTimeOffset atUtc, IEnumerable<Gathered> group, StreamRange range)
    {
        var observed = group.Select(one => one.Observation)
            .OrderBy(one => Rank(one.Means)).ThenBy(one => one.Sequence).ThenBy(one => one.Line)
            .ThenBy(one => one.Column).ToList();
        return new StreamMoment
        {
            AtUtc = atUtc,
            Line = observed.Min(one => one.Line),
            Range = range,
            Observed = observed,
        };
    }

    // What is told at one moment happened together: a cycle that starts runs the program that is told beside it.
    private static int Rank(StreamMeaning means) => means switch
    {
        StreamMeaning.Program or StreamMeaning.MainProgram => 0,
        StreamMeaning.Execution => 2,
        StreamMeaning.Fault => 3,
        _ => 1,
    };

    private sealed record Gathered(
        StreamObservation Observation, DateTimeOffset AtUtc, int Device, (string? Name, string? Id)? Path);
}
