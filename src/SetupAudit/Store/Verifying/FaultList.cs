namespace SetupAudit.Store.Verifying;

/// <summary>Collects what is wrong, the first hundred in words.</summary>
internal sealed class FaultList
{
    private const int Most = 100;

    private readonly List<RecordFault> _faults = [];
    private readonly HashSet<RecordFault> _listed = [];

    public long Count { get; private set; }

    /// <summary>Whether one more would be counted and not told.</summary>
    public bool IsFull => _faults.Count >= Most;

    /// <summary>The lowest number of an entry that anything is wrong with; null where there is none.</summary>
    public long? First { get; private set; }

    public IReadOnlyList<RecordFault> Ordered =>
        [.. _faults.OrderBy(fault => fault.Entry ?? long.MaxValue)];

    public void Add(string code, string text) => Add(code, null, text);

    public void Add(string code, long? entry, string text)
    {
        // Whoever shows it ends the sentence; what another library says may end with a full stop of its own.
        var fault = new RecordFault(code, entry, text.TrimEnd('.'));
        if (_listed.Contains(fault)) return;
        Count++;
        if (entry is { } number && (First is null || number < First)) First = number;
        if (IsFull) return;
        _faults.Add(fault);
        _listed.Add(fault);
    }
}
