using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Security.Cryptography;

namespace SetupAudit.Store.Tables;

/// <summary>
/// What holds now of one machine and kind, from a scope on, as digests: so that a live setup with thousands of rows is
/// compared without reading them back. The rows themselves stay in the database.
/// </summary>
internal sealed class RecordedRows
{
    private readonly Dictionary<string, Mark> _marks = new(StringComparer.Ordinal);

    public RecordedRows()
    {
    }

    public RecordedRows(DateTimeOffset fromUtc, IEnumerable<DerivedWord> words, IncrementalHash hash) =>
        Extend(fromUtc, words, hash);

    /// <summary>Nothing is known of scopes before this.</summary>
    public DateTimeOffset FromUtc { get; private set; } = DateTimeOffset.MaxValue;

    /// <summary>Whether rows of this scope are in view.</summary>
    public bool Covers(DateTimeOffset fromUtc) => fromUtc >= FromUtc;

    public void Extend(DateTimeOffset fromUtc, IEnumerable<DerivedWord> words, IncrementalHash hash)
    {
        foreach (var word in words) Put(word, hash);
        FromUtc = fromUtc;
    }

    /// <summary>Lets go of what lies before a scope: a setup that is over is not compared again.</summary>
    public void Narrow(DateTimeOffset fromUtc)
    {
        if (fromUtc <= FromUtc) return;
        foreach (var id in _marks.Where(pair => pair.Value.ScopeUtc < fromUtc).Select(pair => pair.Key).ToList())
            _marks.Remove(id);
        FromUtc = fromUtc;
    }

    public bool Holds(string id) => _marks.ContainsKey(id);

    public bool Says(DerivedWord word, IncrementalHash hash) =>
        _marks.TryGetValue(word.Key.Id, out var mark) && mark == Of(word, hash);

    /// <summary>Ids that hold and whose scopes lie in a stretch (null for no end), in their order.</summary>
    public IReadOnlyList<string> IdsOf(DateTimeOffset fromUtc, DateTimeOffset? beforeUtc) =>
    [
        .. _marks.Where(pair => pair.Value.ScopeUtc >= fromUtc && !(pair.Value.ScopeUtc >= beforeUtc))
            .Select(pair => pair.Key).Order(StringComparer.Ordinal),
    ];

    /// <summary>Takes note of a word that was appended, whatever its scope.</summary>
    public void Take(DerivedWord word, IncrementalHash hash)
    {
        if (Covers(word.ScopeUtc)) Put(word, hash);
        else _marks.Remove(word.Key.Id);
    }

    private void Put(DerivedWord word, IncrementalHash hash)
    {
        if (word.Body is null) _marks.Remove(word.Key.Id);
        else _marks[word.Key.Id] = Of(word, hash);
    }

    private static Mark Of(DerivedWord word, IncrementalHash hash)
    {
        Span<byte> digest = stackalloc byte[SHA256.HashSizeInBytes];
        Span<byte> moment = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(moment, word.AtUtc.UtcTicks);
        hash.AppendData(moment);
        hash.AppendData(MemoryMarshal.AsBytes(word.Setup.AsSpan()));
        // A byte that no text in UTF-16 can leave over keeps setup and body apart.
        hash.AppendData([0xFF]);
        hash.AppendData(MemoryMarshal.AsBytes(word.Body.AsSpan()));
        hash.GetHashAndReset(digest);
        return new Mark(word.ScopeUtc, BinaryPrimitives.ReadUInt128LittleEndian(digest));
    }

    private readonly record struct Mark(DateTimeOffset ScopeUtc, UInt128 Digest);
}
