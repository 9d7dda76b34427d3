namespace SetupAudit.Store.Verifying;

/// <summary>Collects what is wrong, the first hundred in words.</summary>
internal sealed class FaultList
{
    private const int Most = 100;

    private readonly List<RecordFault> _faults = [];

    public long Count { get; private set; }

    /// <summary>The lowest number of an entry that anything is wrong with; null where there is none.</summary>
    public long? First { get; private set; }

    public IReadOnlyList<RecordFault> Ordered =>
        [.. _faults.OrderBy(fault => fault.Entry ?? long.MaxValue)];

    public void Add(string code, string text) => Add(code, null, text);

    public void Add(string code, long? entry, string text)
    {
        Count++;
        if (entry is { } number && (First is null || number < First)) First = number;
        if (_faults.Count < Most)
            _faults.Add(new RecordFault(code, entry, text));
    }
}
