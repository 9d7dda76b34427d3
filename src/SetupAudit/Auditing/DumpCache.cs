using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>
/// The dumps read last: what was read when it came is folded a moment later, and many a dump says again what the one
/// before it said.
/// </summary>
internal sealed class DumpCache
{
    private const int Most = 64;

    private readonly Dictionary<(string Sha256, int Source), LinkedListNode<Entry>> _entries = [];
    private readonly LinkedList<Entry> _order = new();

    public DumpResult? Find(string machine, int source, string sha256)
    {
        if (!_entries.TryGetValue((sha256, source), out var node) || node.Value.Machine != machine) return null;
        _order.Remove(node);
        _order.AddFirst(node);
        return node.Value.Result;
    }

    public void Put(string machine, int source, string sha256, DumpResult result)
    {
        if (_entries.Remove((sha256, source), out var known)) _order.Remove(known);
        _entries[(sha256, source)] = _order.AddFirst(new Entry(machine, source, sha256, result));
        if (_order.Count <= Most || _order.Last is not { } last) return;
        _entries.Remove((last.Value.Sha256, last.Value.Source));
        _order.RemoveLast();
    }

    private sealed record Entry(string Machine, int Source, string Sha256, DumpResult Result);
}
