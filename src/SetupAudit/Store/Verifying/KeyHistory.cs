using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Store.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Which key signs a record at which size. The first entry names the first key; an entry of kind key names the next
/// one, and the checkpoint that first covers it must be signed by both, so that the old key vouches for the new one.
/// </summary>
internal sealed class KeyHistory
{
    private readonly List<(long Entry, VerifierKey Key)> _keys = [];

    public VerifierKey? Last => _keys.Count == 0 ? null : _keys[^1].Key;

    /// <summary>Every change of keys: its entry, the key before and the key after.</summary>
    public IEnumerable<(long Entry, VerifierKey Before, VerifierKey After)> Changes =>
        _keys.Skip(1).Select((one, index) => (one.Entry, _keys[index].Key, one.Key));

    public bool Knows(VerifierKey key) => _keys.Exists(one => one.Key == key);

    /// <summary>Why a key that was given is none of these, and what to give instead.</summary>
    public string Mismatch(VerifierKey given)
    {
        var told = $"is not signed with the key {given} that was given, but with {Last?.ToString() ?? "none"}";
        if (Last is not { } last) return told;
        return told + (given.Name != last.Name
            ? $"; the key given is of another record, {given.Name}"
            : ". Where 'key rotate' has changed the record's key since, give the key from before, if you wrote down "
                + $"{last.Name}+{last.KeyId:x8} at that time: the record itself ('list trail'), and every bundle made "
                + "since, hold the change, which that key signed with the next one. Where you never wrote it down, "
                + "nothing vouches for this");
    }

    /// <summary>Takes the key that an entry names; false where it names none.</summary>
    public bool TryAdd(RecordBody body)
    {
        if (KeyOf(body) is not { } key || key.Name != body.Origin) return false;
        _keys.Add((body.Number, key));
        return true;
    }

    /// <summary>What is wrong with the signatures of a checkpoint after another; null where nothing.</summary>
    public string? FaultOf(SignedNote note, long sizeBefore, long size)
    {
        if (_keys.Count == 0) return "the record names no key";
        // All that were in force since the checkpoint before: the key as it was then, and every later one up to here.
        var first = Math.Max(0, _keys.FindLastIndex(one => one.Entry < Math.Max(sizeBefore, 1)));
        var needed = _keys.Skip(first).Where(one => one.Entry < size).Select(one => one.Key).ToList();
        if (!NoteSigning.Holds(note, needed, out _, out var reason)) return reason;
        if (needed.Count == 1) return null;
        var missing = needed.Find(key => !NoteSigning.Holds(note, [key], out _, out _));
        return missing is null ? null :
            $"the key {missing.Name}+{missing.KeyId:x8}, which is in force there, did not sign it";
    }

    /// <summary>The keys that a checkpoint over so many entries may be signed with.</summary>
    public IReadOnlyList<VerifierKey> At(long size) =>
        [.. _keys.Where(one => one.Entry < size).Select(one => one.Key).TakeLast(2)];

    private static VerifierKey? KeyOf(RecordBody body)
    {
        if (body.Kind is not (RecordKind.Begin or RecordKind.Key)) return null;
        using var said = JsonDocument.Parse(body.Said);
        return said.RootElement.ValueKind == JsonValueKind.Object
            && said.RootElement.TryGetProperty("key", out var text) && text.ValueKind == JsonValueKind.String
            && VerifierKey.TryRead(text.GetString() ?? "", out var key, out _)
                ? key : null;
    }
}
