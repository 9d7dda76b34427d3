using System.Data.Common;
using SetupAudit.Records;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>
/// Gives what is said its numbers: one a store, within the transactions that say it. Entries, the digests of the rows
/// written with them, and a signed checkpoint over all of them are committed together with those rows, or not at all.
/// </summary>
internal sealed class RecordSequencer(
    RecordIdentity identity, CompactRange range, RowSeals seals, SignedNote? newest) : IDisposable
{
    private readonly List<RecordWord> _words = [];
    private CompactRange _range = range;
    private CompactRange? _grown;
    private SignedNote? _next;
    private RecordIdentity _identity = identity;
    private RecordKey? _nextKey;

    public RecordIdentity Identity => _identity;

    /// <summary>How many entries are committed.</summary>
    public long Size => _range.Size;

    /// <summary>The newest committed checkpoint, signed.</summary>
    public SignedNote? Newest { get; private set; } = newest;

    /// <summary>Says something with the transaction that is going on.</summary>
    public void Say(RecordWord word) => _words.Add(word);

    /// <summary>
    /// Another key signs from the transaction that is going on: both sign its checkpoint, so that the old key vouches
    /// for the new one.
    /// </summary>
    public void SignWith(RecordKey next, KeyOrder order)
    {
        _nextKey = next;
        Say(KeyRotation.Word(next.Verifier, _identity.Key.Verifier, order));
    }

    /// <summary>Writes what was said, and the digests of the rows written; nothing where there was neither.</summary>
    public async Task WriteAsync(DbTransaction transaction, DateTimeOffset nowUtc, CancellationToken token)
    {
        _words.AddRange(await seals.SealAsync(transaction, token));
        if (_words.Count == 0) return;
        var grown = _range.Copy();
        if (grown.Size == 0) _words.Insert(0, BeginWord());
        var entries = Entries(grown, nowUtc);
        await EntryTable.InsertAsync(transaction, entries, token);
        var checkpoint = new Checkpoint(_identity.Origin, grown.Size, grown.Root());
        _next = NoteSigning.Sign(checkpoint.ToString(), _identity.Key, _nextKey);
        await CheckpointTable.InsertAsync(transaction, StoredCheckpoint.Of(checkpoint, _next), token);
        await FrontierTable.PutAsync(transaction, grown.ToBytes(), token);
        _grown = grown;
    }

    /// <summary>The transaction was committed.</summary>
    public void Committed()
    {
        seals.Committed();
        _words.Clear();
        (_range, Newest) = (_grown ?? _range, _next ?? Newest);
        (_grown, _next) = (null, null);
        if (_nextKey is null) return;
        _identity.Key.Dispose();
        (_identity, _nextKey) = (_identity with { Key = _nextKey }, null);
    }

    /// <summary>The transaction was not committed.</summary>
    public void Forget()
    {
        seals.Forget();
        _words.Clear();
        (_grown, _next) = (null, null);
        _nextKey?.Dispose();
        _nextKey = null;
    }

    public void Dispose()
    {
        seals.Dispose();
        _identity.Key.Dispose();
    }

    private List<StoredEntry> Entries(CompactRange grown, DateTimeOffset nowUtc)
    {
        var entries = new List<StoredEntry>(_words.Count);
        foreach (var word in _words)
        {
            var body = new RecordBody
            {
                Origin = _identity.Origin,
                Number = grown.Size,
                AtUtc = nowUtc,
                Kind = word.Kind,
                Said = word.Said,
            }.ToBytes();
            var leaf = MerkleTree.Leaf(body);
            entries.Add(new StoredEntry { Number = grown.Size, Body = body, Leaf = leaf.ToArray() });
            grown.Append(leaf);
        }
        return entries;
    }

    private RecordWord BeginWord() => new(RecordKind.Begin, Said.Of(json =>
    {
        json.WriteString("origin", _identity.Origin);
        json.WriteString("key", _identity.Key.Verifier.ToString());
    }));
}
